import { expect, test } from 'vitest';
import { orderListText } from '../../worker/sheets/orderList.ts';
import { appendixText, firstPageText } from '../../worker/sheets/quoteText.ts';
import {
  bought,
  byTheMetre,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  wire,
  wirePart,
} from './fixtures.ts';

const strict = (least: string) => ({ ...supplier('s'), minimumOrder: gbp(least) });
const nuts = (offer: object = {}, from = strict('15.00')) =>
  priced(needing({ nut: 12 }, [from], [pack('o', 's', 'nut', 1, '1', offer)]));
/** 10.2 m in one length: 11 m where whole metres are sold. */
const metres = (least: string, offer: object = {}) =>
  priced(
    jobOf({
      parts: [wirePart('red')],
      suppliers: [strict(least)],
      offers: [byTheMetre('o', 's', 'red', '0.50', offer)],
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 0, redoMm: 0, stripMm: 0 },
        wires: [wire('1', { length: { mm: 10_200, basis: 'route' } })],
      },
    }),
  );

test('packs that are bought only to reach a minimum order are told', async () => {
  const { orderLists } = await nuts();
  expect(orderLists[0]?.moreForMinimum).toEqual([
    { line: 1, over: { packs: 3 }, minimumOrder: gbp('15.00') },
  ]);
});

test('so are metres, in the steps in which they are sold', async () => {
  const result = await metres('7.00');
  expect(bought(result)).toEqual({ o: 14_000 });
  expect(result.orderLists[0]?.moreForMinimum).toEqual([
    { line: 1, over: { mm: 3_000 }, minimumOrder: gbp('7.00') },
  ]);
});

test('nothing is told of what comes with whole packs and steps, or for a lower price', async () => {
  // 11 m come to 5.50 by themselves.
  expect((await metres('5.50')).orderLists[0]?.moreForMinimum).toBeUndefined();
  // 15 at 0.70 cost less than 12 at 1.00.
  const breaks = [{ fromPacks: 15, packPrice: gbp('0.70') }];
  const cheaper = await nuts({ breaks }, strict('10.20'));
  expect(bought(cheaper)).toEqual({ o: 15 });
  expect(cheaper.orderLists[0]?.moreForMinimum).toBeUndefined();
});

test('the quote says it in words on its first page and in its appendix; the list that is sent does not', async () => {
  const result = await metres('7.00');
  const [list] = result.orderLists;
  if (!list) throw new Error('nothing is bought');
  const said = 'Line 1: 3 m more than needed, to reach the minimum order of 7.00 GBP.';
  for (const text of [firstPageText(result), appendixText(result)])
    expect(text.replaceAll(/\s+/g, ' ')).toContain(said);
  expect(orderListText({ list, asOf: result.asOf })).not.toContain('more than needed');
});
