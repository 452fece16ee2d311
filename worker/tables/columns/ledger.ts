import { lengthsShort } from '../../engine/model/short/lengthsForm.ts';
import { moneyShort } from '../../engine/model/short/moneyForm.ts';
import type { Column } from '../column.ts';
import { day, digits, form, mm, number, text, word, yesNo } from './words.ts';

/** Columns of orders, of what came of them, and of what happened on the shelf. */

export const ORDERS: readonly Column[] = [
  number('number', ['number'], 'Counts the orders of the club.'),
  text('id', ['id'], 'The id of the order.'),
  text('quote', ['quote'], 'The quote whose order list it is.'),
  text('supplier', ['supplier'], 'The code of the supplier.'),
  number('wave', ['wave'], 'The number of the order, if the quote has several with this supplier.'),
  word('state', ['state'], 'draft, sent, part received, received, closed or cancelled.'),
  day('as of', ['asOf'], 'The day of the quote.'),
  digits('total', ['total', 'amount'], 'What it comes to.'),
  text('currency', ['total', 'currency'], 'Of the total.'),
  text('supplier number', ['supplierNumber'], 'The supplier’s number of the order.'),
  text('note', ['note'], 'Your note.'),
];

const some = (name: string, field: string, says: string) => number(name, [field], `${says} Empty: 0.`);

/** What a delivery says of a line. */
export const DELIVERY: readonly Column[] = [
  number('line', ['line'], 'The number of the line on the order list.', { needed: true, example: '1' }),
  number('arrived', ['arrived'], 'So many packs, kits or lengths came and are right. Empty: 0.', {
    example: '2',
  }),
  form('lengths mm', ['lengthsMm'], 'By the metre: the lengths that came, in mm.', {
    also: ['lengths'],
    short: lengthsShort,
    example: '3200, 1800',
  }),
  some('faulty', 'faulty', 'So many came and are faulty. By the metre: mm.'),
  some('wrong', 'wrong', 'So many came and are something else.'),
  some('back ordered', 'backOrdered', 'So many come later, as the supplier says.'),
  some('not coming', 'notComing', 'So many will not come.'),
  yesNo('over', ['over'], 'yes: more came than was ordered, and you keep it.'),
  form('paid', ['paid'], 'What was charged for it. Empty: as the order list says.', { short: moneyShort }),
  text('place', ['place'], 'Where it is put.', { also: ['where'], example: 'shed, second drawer' }),
  yesNo('update offer', ['updateOffer'], 'yes: the offer gets the price that was charged.'),
];

/** What came of an order: each line with the delivery that brought it. */
export const RECEIPTS: readonly Column[] = [
  text('delivery', ['id'], 'The id of the delivery.'),
  text('number', ['number'], 'The supplier’s number of the delivery.'),
  day('day', ['day'], 'The day on which it came.'),
  text('at', ['at'], 'When it was entered.'),
  text('note', ['note'], 'Your note.'),
  ...DELIVERY,
];

const stock = text('stock', ['stock'], 'The code of the stock item.', {
  needed: true,
  also: ['code', 'stock item'],
  example: 'box-3',
});
const pieces = form('pieces mm', ['piecesMm'], 'Cut: the pieces that are cut off one length, in mm.', {
  also: ['pieces'],
  short: lengthsShort,
});
const offcut = mm('offcut mm', ['offcutMm'], 'Cut: what is left of the length, as you measured it.');
const place = text('place', ['place'], 'Moved: where it lies from then on.', { also: ['where'] });
const reason = text('reason', ['reason'], 'Why, in your words.', { also: ['why'], example: 'two were bent' });
const quote = text('quote', ['quote'], 'Used and cut: the id of the quote for whose looms it is.');

/** A movement as it is entered. */
export const MOVEMENTS: readonly Column[] = [
  stock,
  word('kind', ['kind'], 'found, lost, used, counted, moved or cut.', { needed: true, example: 'lost' }),
  number('count', ['count'], 'How many; counted: how many are there. Empty: 1.', { example: '2' }),
  pieces,
  offcut,
  place,
  reason,
  quote,
];

/** A movement as the ledger has it. */
export const LEDGER: readonly Column[] = [
  stock,
  number('number', ['number'], 'Counts the movements of this stock item.'),
  word('kind', ['kind'], 'What happened.'),
  number('change', ['change'], 'So many more, or with a minus so many less.'),
  number('balance', ['balance'], 'So many were there after it.'),
  text('at', ['at'], 'When.'),
  text('who', ['who'], 'Who.'),
  text('part', ['part'], 'The code of the part.'),
  mm('length mm', ['lengthMm'], 'Of a length: how long each is.'),
  place,
  reason,
  pieces,
  offcut,
  text('offcut', ['offcut'], 'The stock item that the offcut became.'),
  text('cut from', ['cutFrom'], 'Of an offcut: the stock item that it was cut from.'),
  quote,
  text('need', ['requirement'], 'Cut by the cutting plan: the need.'),
  number('entry', ['entry'], 'Cut by the cutting plan: the entry of the need.'),
  digits('worth', ['worth', 'amount'], 'What was paid for it.'),
  text('currency', ['worth', 'currency'], 'Of the worth.'),
  text('order', ['order'], 'The order that it came with.'),
  number('line', ['line'], 'The line of that order.'),
];
