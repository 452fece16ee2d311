import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { priceWords, quantityWords } from './amounts.ts';
import { blocksHtml, BOX } from './blockHtml.ts';
import { escaped } from './html.ts';
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
export function orderSection({ list, asOf }: OrderSheet, title: 'h1' | 'h2'): string {
  const coded = list.lines.some(({ supplierCode }) => supplierCode !== undefined);
  const shown = { coded, dated: isManyDays(list) };
  const small = ['Date: ' + asOf, ...seen(list), `Amounts in ${orderCurrency(list)}`];
  return `<section class="order">
<${title}>Order list: ${escaped(orderTitle(list))}</${title}>
${parties(list)}${aboutWords(list).map(paragraphHtml).join('')}<p><strong>${escaped(substitution(list))}</strong></p>
<p class="small">${escaped(small.join('. '))}.</p>
<table>
<colgroup><col class="tick"><col class="no">${coded ? '<col class="code">' : ''}<col><col class="quantity"><col class="price"><col class="sum"></colgroup>
<thead>
<tr><th class="tick"></th><th class="number">No.</th>${coded ? '<th>Your code</th>' : ''}<th>Description</th><th>Quantity</th><th class="number">Price</th><th class="number">Amount</th></tr>
</thead>
<tbody>
${list.lines.map((line) => row(line, shown)).join('\n')}
</tbody>
</table>
${blocksHtml([{ form: 'sums', rows: orderSums(list) }])}
${taxWords(list).map(paragraphHtml).join('')}</section>`;
}

/** Supplier and buyer side by side, as far as they are known. */
function parties(list: OrderList): string {
  const party = (label: string, entries: readonly string[]) =>
    entries.length === 0
      ? ''
      : `<div><span class="small">${label}</span><br>${entries.map(escaped).join('<br>')}</div>`;
  const both = party('To', contactWords(list)) + party('From', buyerWords(list));
  return both === '' ? '' : `<div class="head">${both}</div>\n`;
}

const paragraphHtml = (words: string) => `<p>${escaped(words)}</p>\n`;

/** Where all prices were seen on one day, the heading says it. */
function isManyDays({ lines }: OrderList): boolean {
  return new Set(lines.map(({ seenOn }) => seenOn)).size > 1;
}

interface Shown {
  coded: boolean;
  dated: boolean;
}

function row(line: OrderLine, { coded, dated }: Shown): string {
  const day = line.seenOn === undefined || !dated ? [] : [`seen ${line.seenOn}`];
  const cells = [
    `<td class="tick">${BOX}</td>`,
    `<td class="number">${line.line}</td>`,
    ...(coded ? [`<td class="code">${escaped(line.supplierCode ?? '')}</td>`] : []),
    `<td>${escaped(described(line))}${notesHtml(insteadWords(line))}</td>`,
    `<td>${quantity(line)}</td>`,
    `<td class="price">${escaped(priceWords(line.bought))}${notesHtml(day)}</td>`,
    `<td class="number">${escaped(lineAmount(line))}</td>`,
  ];
  return `<tr>${cells.join('')}</tr>`;
}

function notesHtml(notes: readonly string[]): string {
  return notes.length === 0 ? '' : `<div class="notes">${notes.map(escaped).join(' · ')}</div>`;
}

function quantity({ bought }: OrderLine): string {
  return bought.form === 'metre'
    ? `${escaped(metres(bought.lengthMm))}<br><strong>one continuous length</strong>`
    : escaped(quantityWords(bought));
}
