import { describe, expect, test } from 'vitest';
import type { OrderGoods, OrderLineState } from '../../worker/engine/model/order.ts';
import { ReturnIn } from '../../worker/engine/model/orderEntry.ts';
import { returnFaults, takenBack } from '../../worker/engine/model/orderReturn.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';

const state: OrderLineState = {
  line: 1,
  unit: 'pack',
  ordered: 5,
  arrived: 3,
  faulty: 2,
  wrong: 1,
  backOrdered: 0,
  notComing: 0,
  returned: { right: 1, faulty: 1, wrong: 1 },
  outstanding: 2,
};
const packs: OrderGoods = { line: 1, contents: [{ part: 'ring', form: 'pieces', count: 10 }] };
const kits: OrderGoods = {
  line: 1,
  contents: [
    { part: 'bullet', form: 'pieces', count: 10 },
    { part: 'joiner', form: 'pieces', count: 5 },
  ],
};
const hanks: OrderGoods = { line: 1, contents: [{ part: 'brown', form: 'length', lengthMm: 4900 }] };
const metre: OrderGoods = { line: 1, contents: [{ part: 'brown', form: 'length' }] };
const pieces = (code: string, part: string, count: number) =>
  StockItem.parse({ code, form: 'pieces', part, count });
const lengths = (code: string, lengthMm: number, count: number) =>
  StockItem.parse({ code, form: 'length', part: 'brown', lengthMm, count });
const back = (what: object) => ReturnIn.parse({ line: 1, what: 'right', count: 1, ...what });
const faults = (what: object, of: OrderGoods, there: StockItem[]) =>
  returnFaults(back(what), state, 1, of, there).map(({ code, limit }) => [code, limit]);

describe('goods that go back', () => {
  test('are whole packs that arrived and have not gone back yet', () => {
    const there = [pieces('a', 'ring', 24), pieces('b', 'ring', 6)];
    expect(faults({ count: 2 }, packs, there)).toEqual([]);
    expect(faults({ count: 3 }, packs, there)).toEqual([['more-than-came', '2']]);
    expect(faults({ count: 2 }, packs, [pieces('a', 'ring', 13)])).toEqual([['used-already', '1']]);
    expect(takenBack(back({ count: 3 }), packs, there).map(({ item, count }) => [item.code, count])).toEqual([
      ['a', 24],
      ['b', 6],
    ]);
  });

  test('are whole kits: all that was in them', () => {
    const there = [pieces('a', 'bullet', 30), pieces('b', 'joiner', 9)];
    expect(faults({ count: 2 }, kits, there)).toEqual([['used-already', '1']]);
    expect(takenBack(back({}), kits, there).map(({ item, count }) => [item.code, count])).toEqual([
      ['a', 10],
      ['b', 5],
    ]);
  });

  test('are lengths that were not cut', () => {
    expect(faults({}, hanks, [lengths('a', 4900, 1), lengths('a-1200', 1200, 4)])).toEqual([]);
    expect(faults({}, hanks, [lengths('a', 4900, 0), lengths('a-1200', 1200, 4)])).toEqual([
      ['used-already', '0'],
    ]);
  });

  test('are no wire by the metre, unless the supplier agrees', () => {
    const there = [lengths('a', 3200, 2)];
    expect(faults({ stock: 'a' }, metre, there)).toEqual([['cut-for-you', 'agreed']]);
    expect(faults({ agreed: true }, metre, there)).toEqual([['unknown-stock-item', 'a']]);
    expect(faults({ agreed: true, stock: 'a', count: 3 }, metre, there)).toEqual([['not-so-many', '2']]);
    expect(faults({ agreed: true, stock: 'a', count: 2 }, metre, there)).toEqual([]);
    expect(takenBack(back({ stock: 'a', count: 2 }), metre, there)).toEqual([{ item: there[0], count: 2 }]);
  });

  test('are of what is faulty or wrong as much as a delivery said', () => {
    expect(faults({ what: 'faulty' }, packs, [])).toEqual([]);
    expect(faults({ what: 'faulty', count: 2 }, packs, [])).toEqual([['more-than-came', '1']]);
    expect(faults({ what: 'wrong' }, packs, [])).toEqual([['more-than-came', '0']]);
  });

  test('are of a line of the order, and name a stock item only where it matters', () => {
    expect(returnFaults(back({ line: 2 }), undefined, 1, undefined, []).map(({ code }) => code)).toEqual([
      'unknown-line',
    ]);
    expect(faults({ stock: 'a' }, packs, [pieces('a', 'ring', 30)])).toEqual([
      ['not-by-the-metre', 'left out'],
    ]);
  });
});
