import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { conditionWords, priceWords, quantityWords } from './amounts.ts';
import { escaped } from './html.ts';
import { MARGINS_HEAD, marginLines } from './margins.ts';
import { boughtFor } from './options.ts';
import { colourText, seen, waveWords } from './orderList.ts';
import { lineAmount, orderCurrency, orderSums } from './orderSums.ts';
import { ORDER_STYLE } from './orderStyle.ts';

/** What stands on every order list beside the order itself. */
export interface OrderSheet {
  list: OrderList;
  asOf: string;
  cautions: readonly string[];
}

/** One supplier's order list as a page to print, on A4 or Letter: a whole document that needs nothing from elsewhere. */
export function orderListHtml({ list, asOf, cautions }: OrderSheet): string {
  const name = escaped(list.name + waveWords(list));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Order list: ${name}</title>
<style>${ORDER_STYLE}</style>
</head>
<body>
<header>
<h1>Order list: ${name}</h1>
<p>${['As of ' + asOf, ...seen(list), ...boughtFor(list)].map(escaped).join('. ')}. Amounts in ${escaped(orderCurrency(list))}.</p>
</header>
<table>
<colgroup><col class="tick"><col class="no"><col class="code"><col><col class="colour"><col class="quantity"><col class="price"><col class="sum"></colgroup>
<thead>
<tr><th class="tick"></th><th class="number">No.</th><th>Your code</th><th>Description</th><th>Colour</th><th>Quantity</th><th class="number">Price</th><th class="number">Amount</th></tr>
</thead>
<tbody>
${list.lines.map((line) => row(line, isManyDays(list))).join('\n')}
</tbody>
<tbody class="sums">
${sums(list)}
</tbody>
</table>
${margins(list)}<section class="cautions">
<h2>Take care</h2>
<ul>
${cautions.map((caution) => `<li>${escaped(caution)}</li>`).join('\n')}
</ul>
</section>
</body>
</html>
`;
}

/** Where all prices were seen on one day, the heading says it. */
function isManyDays({ lines }: OrderList): boolean {
  return new Set(lines.map(({ seenOn }) => seenOn)).size > 1;
}

function row(line: OrderLine, manyDays: boolean): string {
  const notes = [
    ...(line.oneContinuousLength ? ['one continuous length'] : []),
    ...(line.condition === 'new' ? [] : [`condition: ${conditionWords(line.condition)}`]),
    ...(line.seenOn === undefined || !manyDays ? [] : [`seen on ${line.seenOn}`]),
  ];
  const quantity = quantityWords(line.bought).replace(' in one length', '');
  return `<tr><td class="tick"><span class="box"></span></td><td class="number">${line.line}</td><td class="code">${escaped(line.supplierCode ?? '')}</td><td>${escaped(line.description)}<div class="notes">${notes.map(escaped).join(' · ')}</div></td><td>${escaped(colourText(line))}</td><td class="amount">${escaped(quantity)}</td><td class="number">${escaped(priceWords(line.bought))}</td><td class="number">${escaped(lineAmount(line))}</td></tr>`;
}

/** A section of its own, where there is something to say. */
function margins(list: OrderList): string {
  const items = marginLines(list).map((margin) => `<li>${escaped(margin)}</li>`);
  return items.length === 0
    ? ''
    : `<section class="cautions">
<h2>${MARGINS_HEAD}</h2>
<ul>
${items.join('\n')}
</ul>
</section>
`;
}

function sums(list: OrderList): string {
  const rows = orderSums(list);
  return rows
    .map(
      ([label, amount], index) =>
        `<tr${index === rows.length - 1 ? ' class="total"' : ''}><th colspan="7" scope="row">${escaped(label)}</th><td class="number">${escaped(amount)}</td></tr>`,
    )
    .join('\n');
}
