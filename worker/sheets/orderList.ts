import type { OrderLine } from '../engine/model/result.ts';
import { priceWords, quantityWords } from './amounts.ts';
import type { Column } from './block.ts';
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
import { pairs, paragraph, textTable } from './textTable.ts';

/** One supplier's order list as text, as it can be sent: the supplier's codes, packs and prices, and metres. */
export function orderListText({ list, asOf }: OrderSheet): string {
  const coded = list.lines.some(({ supplierCode }) => supplierCode !== undefined);
  const columns: Column[] = [
    { head: '', tick: true },
    { head: '', align: 'right' },
    ...(coded ? [{ head: 'Your code', wraps: true }] : []),
    { head: 'Description', wraps: true },
    { head: 'Quantity' },
    { head: 'Price', align: 'right' },
    { head: orderCurrency(list), align: 'right' },
  ];
  const rows = list.lines.map((line) => [
    '',
    `${line.line}`,
    ...(coded ? [line.supplierCode ?? ''] : []),
    descriptionOf(line),
    quantityWords(line.bought),
    priceWords(line.bought),
    lineAmount(line),
  ]);
  const labelled = (label: string, entries: readonly string[]) =>
    entries.length === 0 ? [] : [`${label}: ${entries.join(', ')}`];
  const head = [
    `Order list: ${orderTitle(list)}`,
    ...labelled('To', contactWords(list)),
    ...labelled('From', buyerWords(list)),
    ...aboutWords(list),
    [`Date: ${asOf}`, ...seen(list)].join('. '),
    substitution(list),
  ];
  return [
    head.map((line) => paragraph(line)).join('\n'),
    textTable(columns, rows),
    pairs(orderSums(list), 'right'),
    ...taxWords(list).map((words) => paragraph(words)),
  ].join('\n\n');
}

function descriptionOf(line: OrderLine): string {
  return [described(line), ...insteadWords(line)].join('. ');
}
