import type { OrderLineState, OrderState } from '../../engine/model/order.ts';
import type { OrderLine, OrderList } from '../../engine/model/result.ts';
import { metres } from '../../engine/units/length.ts';
import { quantityWords } from '../amounts.ts';
import { list, table, text, type Column, type Row } from '../block.ts';
import { aboutWords, described, insteadWords } from '../orderWords.ts';
import type { ShelfSheet } from './shelfSheet.ts';

/** An order as the list for the opening of its parcels has it. */
export interface OrderOnItsWay {
  number: number;
  state: OrderState;
  list: OrderList;
  lines: readonly OrderLineState[];
  /** The supplier's number of the order. */
  supplierNumber: string | undefined;
  note: string | undefined;
  /** The day on which it was sent, by UTC; undefined of one that was not. */
  sentOn: string | undefined;
  /** The day on which the list is made. */
  day: string;
}

const NOTHING_MORE = '–';

const BOXES: Column[] = [
  { head: 'Came', writeMm: 12 },
  { head: 'Faulty', writeMm: 10 },
  { head: 'Wrong', writeMm: 10 },
  { head: 'Place', writeMm: 26 },
];

const COLUMNS: Column[] = [
  { head: 'No.', align: 'right' },
  { head: 'What it is', wraps: true },
  { head: 'Ordered', wraps: true },
  { head: 'Came so far', wraps: true },
  { head: 'Still to come', wraps: true },
  ...BOXES,
];

/** The list to take to the bench when a parcel of an order is opened. */
export function goodsInSheet(order: OrderOnItsWay): ShelfSheet {
  const { number, list: orderList, day } = order;
  const title = `Goods-in list: order ${number}, ${orderList.name}`;
  return {
    kind: 'Goods-in list',
    title,
    about: `Order ${number}, ${orderList.name}. As of ${day}`,
    day,
    sections: [
      { title: '', blocks: [...list(headWords(order)), ...text(stateWords(order)), ...linesOf(order)] },
    ],
  };
}

/** What the order is known by, a line each. */
function headWords({ list: orderList, supplierNumber, sentOn, note }: OrderOnItsWay): string[] {
  return [
    `Supplier: ${orderList.name}`,
    ...(supplierNumber === undefined ? [] : [`The supplier’s number of the order: ${supplierNumber}`]),
    sentOn === undefined ? 'Not sent yet' : `Sent on ${sentOn}`,
    ...aboutWords(orderList),
    ...(note === undefined ? [] : [`Note: ${note}`]),
  ];
}

/** How to use the list, or why there is nothing to wait for. */
function stateWords({ state, lines }: OrderOnItsWay): string {
  switch (state) {
    case 'cancelled':
      return 'This order is cancelled. If a parcel of it comes, ask the supplier.';
    case 'closed':
      return 'This order is closed. Nothing more of it is waited for.';
    case 'received':
      return 'All of this order came, or will not come.';
    case 'draft':
    case 'sent':
    case 'partReceived':
      return [
        'Tick a box if all that is still to come is so. If not, write how many.',
        ...(lines.some(({ unit }) => unit === 'mm')
          ? ['Of wire by the metre, write each length that came: 3.2 m and 1.8 m are not one length of 5 m.']
          : []),
        'What is faulty or wrong does not count as come.',
      ].join(' ');
  }
}

function linesOf({ list: { lines }, lines: states, state }: OrderOnItsWay) {
  const byLine = new Map(states.map((each) => [each.line, each]));
  const isWaited = state !== 'closed' && state !== 'cancelled';
  const rows = lines.flatMap((line) => {
    const where = byLine.get(line.line);
    return where ? [rowOf(line, where, isWaited)] : [];
  });
  return rows.length === 0 ? text('This order has no lines.') : table(COLUMNS, rows);
}

function rowOf(line: OrderLine, state: OrderLineState, isWaited: boolean): Row {
  const done = state.outstanding === 0 || !isWaited;
  return [
    `${line.line}`,
    [coded(line), ...insteadWords(line)].join('. '),
    quantityWords(line.bought),
    cameWords(state),
    toComeWords(state, isWaited),
    ...BOXES.map(() => (done ? NOTHING_MORE : '')),
  ];
}

/** "Ring terminal (R6-10)": with the supplier's code, where there is one. */
function coded(line: OrderLine): string {
  const { supplierCode } = line;
  return supplierCode === undefined ? described(line) : `${described(line)} (${supplierCode})`;
}

/** "2", "2; 1 faulty": of the unit in which it is ordered. */
function cameWords({ unit, arrived, faulty, wrong, notComing }: OrderLineState): string {
  const said = (amount: number, word: string) => (amount === 0 ? [] : [`${amountOf(unit, amount)} ${word}`]);
  return [
    amountOf(unit, arrived),
    ...said(faulty, 'faulty'),
    ...said(wrong, 'wrong'),
    ...said(notComing, 'not coming'),
  ].join('; ');
}

function toComeWords({ unit, outstanding, backOrdered }: OrderLineState, isWaited: boolean): string {
  if (outstanding === 0) return 'done';
  const amount = amountOf(unit, outstanding);
  if (!isWaited) return `${amount}, not waited for`;
  const later = Math.min(backOrdered, outstanding);
  if (later === outstanding) return `${amount}, later`;
  return later === 0 ? amount : `${amount}; of these ${amountOf(unit, later)} later`;
}

const amountOf = (unit: OrderLineState['unit'], amount: number) =>
  unit === 'mm' ? metres(amount) : `${amount}`;
