import { stringify } from 'csv-stringify/sync';
import { guarded } from '../csv/guard.ts';
import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { metresNumber } from '../engine/units/length.ts';
import { conditionWords } from './amounts.ts';
import { boughtFor } from './options.ts';
import { insteadNames, orderTitle, withContents } from './orderWords.ts';
import { lineAmount, orderCurrency, orderExtras } from './orderSums.ts';
import { printable } from './textTable.ts';

const HEAD = [
  'line',
  'their code',
  'description',
  'colour',
  'colour letters',
  'quantity',
  'unit',
  'pieces in a pack',
  'metres in a length',
  'price',
  'cost',
  'currency',
  'one continuous length',
  'condition',
  'price seen on',
  'may be sent instead',
];

/**
 * One supplier's order list as CSV (RFC 4180). Postage, handling and tax are rows of their own, so that the cost column sums
 * to what the supplier's invoice comes to, in its currency. Where options are chosen, the looms are named below. Text that a spreadsheet would take for a formula is guarded.
 */
export function orderListCsv(list: OrderList): string {
  return csvText([HEAD, ...orderRows(list)]);
}

/** The order lists of several suppliers in one table, each row with its supplier. */
export function orderListsCsv(lists: readonly OrderList[]): string {
  const rows = lists.flatMap((list) => orderRows(list).map((row) => [printable(orderTitle(list)), ...row]));
  return csvText([['supplier', ...HEAD], ...rows]);
}

function csvText(rows: readonly (readonly string[])[]): string {
  return stringify(
    rows.map((row) => row.map((cell) => guarded(cell))),
    { record_delimiter: '\r\n' },
  );
}

function orderRows(list: OrderList): string[][] {
  const currency = orderCurrency(list);
  const remark = (label: string) => {
    const row = HEAD.map(() => '');
    row[HEAD.indexOf('description')] = label;
    return row;
  };
  const extra = (label: string, amount: string) => {
    const row = remark(label);
    row[HEAD.indexOf('cost')] = amount;
    row[HEAD.indexOf('currency')] = currency;
    return row;
  };
  return [
    ...list.lines.map((line) => csvLine(line, currency)),
    ...orderExtras(list).map(([label, amount]) => extra(label, amount)),
    ...boughtFor(list).map((text) => remark(printable(text))),
  ];
}

function csvLine(line: OrderLine, currency: string): string[] {
  return [
    `${line.line}`,
    printable(line.supplierCode ?? ''),
    printable(withContents(line)),
    printable(line.colour ?? ''),
    line.colourLetters ?? '',
    ...amountCells(line),
    lineAmount(line),
    currency,
    line.oneContinuousLength ? 'yes' : 'no',
    conditionWords(line.condition),
    line.seenOn ?? '',
    printable(insteadNames(line) || 'please do not substitute'),
  ];
}

/** quantity, unit, pieces in a pack, metres in a length, price */
function amountCells({ bought }: OrderLine): string[] {
  switch (bought.form) {
    case 'metre':
      return [metresNumber(bought.lengthMm), 'metre', '', '', bought.pricePerMetre.amount];
    case 'length':
      return [`${bought.packs}`, 'length', '', metresNumber(bought.nominalMm), bought.packPrice.amount];
    case 'kit':
      return [`${bought.packs}`, 'kit', '', '', bought.packPrice.amount];
    case 'pack':
      return [`${bought.packs}`, 'pack', `${bought.packCount}`, '', bought.packPrice.amount];
  }
}
