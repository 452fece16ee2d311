import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { conditionWords, priceWords, quantityWords } from './amounts.ts';
import { pairs, printable, textTable, type Column } from './textTable.ts';

/** One supplier's order list as text, in the supplier's own terms: their codes, their packs, metres. */
export function orderListText(list: OrderList): string {
  const { currency } = list.total;
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
    line.cost.amount,
  ]);
  const sums: [string, string][] = [
    ['Goods', list.goods.amount],
    ['Postage', list.postage.amount],
    ...(isZero(list.handling.amount) ? [] : [['Handling', list.handling.amount] as [string, string]]),
    ...(isZero(list.rounding.amount) ? [] : [['Rounding', list.rounding.amount] as [string, string]]),
    [`Total, ${currency}`, list.total.amount],
  ];
  return [
    [`Order list: ${printable(list.name)}`, ...seen(list)].join('\n'),
    textTable(columns, rows),
    pairs(sums, 'right'),
  ].join('\n\n');
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

export const isZero = (amount: string) => Number(amount) === 0;
