import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { conditionWords, priceWords, quantityWords } from './amounts.ts';
import { MARGINS_HEAD, marginLines } from './margins.ts';
import { lineAmount, orderCurrency, orderSums } from './orderSums.ts';
import { boughtFor } from './options.ts';
import { pairs, paragraph, printable, textTable, type Column } from './textTable.ts';

/** One supplier's order list as text, in the supplier's own terms: their codes, their packs, metres. */
export function orderListText(list: OrderList): string {
  const currency = orderCurrency(list);
  const columns: Column[] = [
    { head: '' },
    { head: '', align: 'right' },
    { head: 'Their code', wraps: true },
    { head: 'Description', wraps: true },
    { head: 'Colour', wraps: true },
    { head: 'Quantity' },
    { head: 'Price', align: 'right' },
    { head: currency, align: 'right' },
  ];
  const rows = list.lines.map((line) => [
    '[ ]',
    `${line.line}`,
    line.supplierCode ?? '',
    described(line),
    colourText(line),
    quantityWords(line.bought),
    priceWords(line.bought),
    lineAmount(line),
  ]);
  const margins = marginLines(list);
  return [
    [
      `Order list: ${printable(list.name)}${waveWords(list)}`,
      ...boughtFor(list).map((text) => paragraph(printable(text))),
      ...seen(list),
    ].join('\n'),
    textTable(columns, rows),
    pairs(orderSums(list), 'right'),
    ...(margins.length > 0
      ? [[`${MARGINS_HEAD}:`, ...margins.map((margin) => paragraph(margin, '- '))].join('\n')]
      : []),
  ].join('\n\n');
}

/** ", order 2", where there are several. */
export function waveWords({ wave }: OrderList): string {
  return wave === undefined ? '' : `, order ${wave}`;
}

/** A condition other than new is said with the description. */
function described({ description, condition }: OrderLine): string {
  return condition === 'new' ? description : `${description} (${conditionWords(condition)})`;
}

/** From when the prices are, where it is known. */
export function seen({ lines }: OrderList): string[] {
  const days = lines.flatMap(({ seenOn }) => seenOn ?? []).sort();
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return [];
  return [first === last ? `Prices seen on ${first}` : `Prices seen from ${first} to ${last}`];
}

/** "green with white tracer (GW)" */
export function colourText({ colour = '', colourLetters }: OrderLine): string {
  return colourLetters === undefined ? colour : `${colour} (${colourLetters})`;
}
