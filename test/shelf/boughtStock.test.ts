import { expect, test } from 'vitest';
import { boughtStock, type OrderOnItsWay } from '../../worker/engine/model/boughtStock.ts';
import type { OrderLineState } from '../../worker/engine/model/order.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';

const line = (number: number, unit: OrderLineState['unit'], outstanding: number): OrderLineState => ({
  line: number,
  unit,
  ordered: 9,
  arrived: 0,
  faulty: 0,
  wrong: 0,
  backOrdered: 0,
  notComing: 0,
  returned: { right: 0, faulty: 0, wrong: 0 },
  outstanding,
});
const order: OrderOnItsWay = {
  number: 12,
  state: 'partReceived',
  supplierName: 'Ash Lane',
  goods: [
    { line: 1, contents: [{ part: 'ring', form: 'pieces', count: 10 }] },
    {
      line: 2,
      contents: [
        { part: 'bullet', form: 'pieces', count: 10 },
        { part: 'joiner', form: 'pieces', count: 5 },
      ],
    },
    { line: 3, contents: [{ part: 'brown', form: 'length', lengthMm: 4900 }] },
    { line: 4, contents: [{ part: 'green', form: 'length' }] },
    { line: 5, contents: [{ part: 'tape', form: 'pieces', count: 1 }] },
  ],
  lines: [
    line(1, 'pack', 3),
    line(2, 'kit', 2),
    line(3, 'length', 2),
    line(4, 'mm', 3200),
    line(5, 'pack', 0),
  ],
};
const place = 'on its way: order 12 from Ash Lane';

test('what is still to come counts in pieces, and in lengths as they come', () => {
  const items = boughtStock([order], [], []);
  expect(items).toEqual([
    { code: 'coming-12-1', place, form: 'pieces', part: 'ring', count: 30 },
    { code: 'coming-12-2', place, form: 'pieces', part: 'bullet', count: 20 },
    { code: 'coming-12-2.2', place, form: 'pieces', part: 'joiner', count: 10 },
    { code: 'coming-12-3', place, form: 'length', part: 'brown', lengthMm: 4900, count: 2 },
    { code: 'coming-12-4', place, form: 'length', part: 'green', lengthMm: 3200, count: 1 },
  ]);
  for (const item of items) expect(StockItem.safeParse(item).error).toBeUndefined();
});

test('no code is that of stock that there is', () => {
  const codes = boughtStock([order], [], ['coming-12-1', 'coming-12-2.2']).map(({ code }) => code);
  expect(codes.slice(0, 3)).toEqual(['coming-12-1.2', 'coming-12-2', 'coming-12-2.3']);
});

test.each(['closed', 'cancelled'] as const)('nothing more comes of an order that is %s', (state) => {
  expect(boughtStock([{ ...order, state }], [], [])).toEqual([]);
});

test('what was built in counts as it was, and what was cut as the pieces that it was cut into', () => {
  const used = [
    { kind: 'used' as const, change: -4, body: { part: 'ring' } },
    {
      kind: 'cut' as const,
      change: -1,
      body: { part: 'brown', lengthMm: 4900, piecesMm: [1200, 600, 1200] },
    },
  ];
  const items = boughtStock([], used, []);
  expect(items).toEqual([
    { code: 'used-ring', place: 'built in already', form: 'pieces', part: 'ring', count: 4 },
    { code: 'cut-brown-1200', place: 'cut already', form: 'length', part: 'brown', lengthMm: 1200, count: 2 },
    { code: 'cut-brown-600', place: 'cut already', form: 'length', part: 'brown', lengthMm: 600, count: 1 },
  ]);
  for (const item of items) expect(StockItem.safeParse(item).error).toBeUndefined();
});
