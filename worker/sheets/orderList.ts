import type { OrderLine } from '../engine/model/result.ts';
import { priceWords, quantityWords } from './amounts.ts';
import { sums, table, text, type Block, type Column, type Section } from './block.ts';
import { blocksText } from './blockText.ts';
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
import { paragraph } from './textTable.ts';

/** One supplier's order list as text, as it can be sent: the supplier's codes, packs and prices, and metres. */
export function orderListText(sheet: OrderSheet): string {
  const head = [`Order list: ${orderTitle(sheet.list)}`, ...headWords(sheet)];
  return [head.map((line) => paragraph(line)).join('\n'), blocksText(tableBlocks(sheet))].join('\n\n');
}

/** The same as a section, which begins on a page of its own. */
export function orderListSection(sheet: OrderSheet): Section {
  const blocks = [...headWords(sheet).flatMap((line) => text(line)), ...tableBlocks(sheet)];
  return { title: `Order list: ${orderTitle(sheet.list)}`, blocks, newPage: true };
}

function headWords({ list, asOf }: OrderSheet): string[] {
  const labelled = (label: string, entries: readonly string[]) =>
    entries.length === 0 ? [] : [`${label}: ${entries.join(', ')}`];
  return [
    ...labelled('To', contactWords(list)),
    ...labelled('From', buyerWords(list)),
    ...aboutWords(list),
    [`Date: ${asOf}`, ...seen(list)].join('. '),
    substitution(list),
  ];
}

function tableBlocks({ list }: OrderSheet): Block[] {
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
  return [
    ...table(columns, rows),
    ...sums(orderSums(list)),
    ...taxWords(list).flatMap((words) => text(words)),
  ];
}

function descriptionOf(line: OrderLine): string {
  return [described(line), ...insteadWords(line)].join('. ');
}
