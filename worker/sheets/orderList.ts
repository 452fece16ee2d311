import { stringify } from 'csv-stringify/sync';
import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { metresNumber } from '../engine/units/length.ts';
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
    line.colour ?? '',
    quantityWords(line.bought),
    priceWords(line.bought),
    line.cost.amount,
  ]);
  const sums: [string, string][] = [
    ['Goods', list.goods.amount],
    ['Postage', list.postage.amount],
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
function seen({ lines }: OrderList): string[] {
  const days = lines.flatMap(({ seenOn }) => seenOn ?? []).sort();
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return [];
  return [first === last ? `Prices seen on ${first}` : `Prices seen from ${first} to ${last}`];
}

const HEAD = [
  'line',
  'their code',
  'description',
  'colour',
  'quantity',
  'unit',
  'pieces in a pack',
  'price',
  'cost',
  'currency',
  'one continuous length',
  'condition',
  'price seen on',
];

/**
 * One supplier's order list as CSV (RFC 4180). Postage and rounding are rows of their own, so that the cost column sums
 * to the total. Text that a spreadsheet would take for a formula is disarmed with a leading apostrophe.
 */
export function orderListCsv(list: OrderList): string {
  const { currency } = list.total;
  const extra = (label: string, amount: string) => [
    '',
    '',
    label,
    ...Array<string>(5).fill(''),
    money(amount),
    currency,
    '',
    '',
    '',
  ];
  const decimals = (list.total.amount.split('.')[1] ?? '').length;
  return stringify(
    [
      HEAD,
      ...list.lines.map(csvLine),
      extra('Postage', list.postage.amount),
      ...(isZero(list.rounding.amount) ? [] : [extra('Rounding', list.rounding.amount)]),
    ],
    {
      escape_formulas: true,
      record_delimiter: '\r\n',
      cast: { number: (value) => value.toFixed(decimals) },
    },
  );
}

function csvLine({
  line,
  supplierCode,
  description,
  colour,
  bought,
  ...rest
}: OrderLine): (string | number)[] {
  const [quantity, unit, pieces, price] =
    bought.form === 'metre'
      ? [metresNumber(bought.lengthMm), 'metre', '', bought.pricePerMetre.amount]
      : [`${bought.packs}`, 'pack', `${bought.packCount}`, bought.packPrice.amount];
  return [
    `${line}`,
    printable(supplierCode ?? ''),
    printable(description),
    printable(colour ?? ''),
    quantity,
    unit,
    pieces,
    price,
    rest.cost.amount,
    rest.cost.currency,
    rest.oneContinuousLength ? 'yes' : 'no',
    conditionWords(rest.condition),
    rest.seenOn ?? '',
  ];
}

/** A negative amount stays a number, which is not disarmed as a formula. */
function money(amount: string): string | number {
  return amount.startsWith('-') ? Number(amount) : amount;
}

const isZero = (amount: string) => Number(amount) === 0;
