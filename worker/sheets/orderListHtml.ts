import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { priceWords, quantityWords } from './amounts.ts';
import { blocksHtml, BOX } from './blockHtml.ts';
import { markup, lined, type Html } from './html.ts';
import { lineAmount, orderCurrency, orderSums, taxWords } from './orderSums.ts';
import {
  aboutWords,
  buyerWords,
  contactWords,
  described,
  insteadWords,
  orderTitle,
  seen,
  substitution,
  type OrderSheet,
} from './orderWords.ts';
import { pageHtml } from './pageHtml.ts';

/** One supplier's order list as a page to print: a whole document that needs nothing from elsewhere. */
export function orderListHtml(sheet: OrderSheet): string {
  return pageHtml(`Order list: ${orderTitle(sheet.list)}`, orderSection(sheet, 'h1'));
}

/** The same as a section of a page, under a title of that rank. */
export function orderSection({ list, asOf }: OrderSheet, rank: 'h1' | 'h2'): Html {
  const coded = list.lines.some(({ supplierCode }) => supplierCode !== undefined);
  const shown = { coded, dated: isManyDays(list) };
  const small = ['Date: ' + asOf, ...seen(list), `Amounts in ${orderCurrency(list)}`];
  const title = `Order list: ${orderTitle(list)}`;
  return lined([
    markup`<section class="order">`,
    rank === 'h1' ? markup`<h1>${title}</h1>` : markup`<h2>${title}</h2>`,
    ...parties(list),
    ...aboutWords(list).map(paragraphHtml),
    markup`<p><strong>${substitution(list)}</strong></p>
      <p class="small">${small.join('. ')}.</p>
      <table>
        <colgroup>
          <col class="tick" />
          <col class="no" />
          ${coded ? markup`<col class="code" />` : ''}
          <col />
          <col class="quantity" />
          <col class="price" />
          <col class="sum" />
        </colgroup>
        <thead>
          <tr>
            <th class="tick"></th>
            <th class="number">No.</th>
            ${coded ? markup`<th>Your code</th>` : ''}
            <th>Description</th>
            <th>Quantity</th>
            <th class="number">Price</th>
            <th class="number">Amount</th>
          </tr>
        </thead>
        <tbody>
          ${lined(list.lines.map((line) => row(line, shown)))}
        </tbody>
      </table>`,
    blocksHtml([{ form: 'sums', rows: orderSums(list) }]),
    ...taxWords(list).map(paragraphHtml),
    markup`</section>`,
  ]);
}

/** Supplier and buyer side by side, as far as they are known. */
function parties(list: OrderList): Html[] {
  const party = (label: string, entries: readonly string[]) =>
    entries.length === 0
      ? []
      : [
          markup`<div><span class="small">${label}</span>${entries.map((entry) => markup`<br />${entry}`)}</div>`,
        ];
  const both = [...party('To', contactWords(list)), ...party('From', buyerWords(list))];
  return both.length === 0 ? [] : [markup`<div class="head">${both}</div>`];
}

const paragraphHtml = (words: string) => markup`<p>${words}</p>`;

/** Where all prices were seen on one day, the heading says it. */
function isManyDays({ lines }: OrderList): boolean {
  return new Set(lines.map(({ seenOn }) => seenOn)).size > 1;
}

interface Shown {
  coded: boolean;
  dated: boolean;
}

function row(line: OrderLine, { coded, dated }: Shown): Html {
  const day = line.seenOn === undefined || !dated ? [] : [`seen ${line.seenOn}`];
  const code = coded ? markup`<td class="code">${line.supplierCode}</td>` : '';
  return markup`<tr>
    <td class="tick">${BOX}</td>
    <td class="number">${line.line}</td>
    ${code}
    <td>${described(line)}${notesHtml(insteadWords(line))}</td>
    <td>${quantity(line)}</td>
    <td class="price">${priceWords(line.bought)}${notesHtml(day)}</td>
    <td class="number">${lineAmount(line)}</td>
  </tr>`;
}

function notesHtml(notes: readonly string[]): Html | string {
  return notes.length === 0 ? '' : markup`<div class="notes">${notes.join(' · ')}</div>`;
}

function quantity({ bought }: OrderLine): Html | string {
  return bought.form === 'metre'
    ? markup`${metres(bought.lengthMm)}<br /><strong>one continuous length</strong>`
    : quantityWords(bought);
}
