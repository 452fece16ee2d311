import { describe, expect, test } from 'vitest';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import { orderListText } from '../../worker/sheets/orderList.ts';
import { appendixHtml, quoteHtml } from '../../worker/sheets/quoteHtml.ts';
import { appendixText, firstPageText } from '../../worker/sheets/quoteText.ts';
import type { Job, JobInput } from '../../worker/engine/model/job.ts';
import {
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

const free = supplier('s', ['0', '3.60'], ['15', '0']);
/** Pieces of one part at a pound each, in pennies' worth where that is asked. */
const job = (pieces: number, price: string, more: Partial<JobInput> = {}, offer: object = {}) =>
  needing({ nut: pieces }, [free], [pack('o', 's', 'nut', 1, price, offer)], more);
const marginsOf = async (given: Job) => (await priced(given)).orderLists[0]?.margins;
const setting = (thresholdMarginPercent: number): Partial<JobInput> => ({
  club: { currency: 'GBP', settings: { thresholdMarginPercent, besideSeconds: 0 } },
});

describe('an order list tells of free postage', () => {
  test('that is met by less than 5 %, by how much, and what it costs to miss it', async () => {
    // 15 × 1.04 = 15.60, over 15.00 by 0.60: 4 %.
    expect(await marginsOf(job(15, '1.04'))).toEqual([
      { kind: 'freePostage', threshold: gbp('15.00'), over: gbp('0.60'), percent: 4, costs: gbp('3.60') },
    ]);
  });

  test('not where it is met by 5 % or more, or where the setting says less', async () => {
    // 15 × 1.05 = 15.75: just 5 %.
    expect(await marginsOf(job(15, '1.05'))).toBeUndefined();
    expect(await marginsOf(job(15, '1.04', setting(4)))).toBeUndefined();
    expect(await marginsOf(job(15, '1.04', setting(4.0001)))).toHaveLength(1);
    expect(await marginsOf(job(15, '1', setting(0)))).toBeUndefined();
  });

  test('with the tax that the postage would bear', async () => {
    const taxed = job(15, '1', {
      club: { currency: 'GBP', country: 'GB', settings: { besideSeconds: 0 } },
      suppliers: [{ ...free, country: 'GB', pricesInclude: 'noTax' }],
      lanes: [{ code: 'home', from: 'GB', to: 'GB', taxPercent: 20 }],
    });
    // Postage 3.60 and 20 % of it.
    expect(await marginsOf(taxed)).toMatchObject([{ over: gbp('0.00'), percent: 0, costs: gbp('4.32') }]);
  });

  test('and of postage that is only lower', async () => {
    const lower = supplier('s', ['0', '3.60'], ['15', '1.50'], ['40', '0']);
    expect(await marginsOf(job(15, '1.04', { suppliers: [lower] }))).toMatchObject([
      { kind: 'postage', threshold: gbp('15.00'), costs: gbp('2.10') },
    ]);
  });
});

test('an order list tells of a minimum order that is met by little: below it the order is not taken', async () => {
  const strict = { ...supplier('s'), minimumOrder: gbp('15.00') };
  expect(await marginsOf(job(15, '1.04', { suppliers: [strict] }))).toEqual([
    { kind: 'minimumOrder', threshold: gbp('15.00'), over: gbp('0.60'), percent: 4 },
  ]);
});

describe('an order list tells of a price break', () => {
  const breaks = [
    { fromPacks: 10, packPrice: gbp('0.90') },
    { fromPacks: 20, packPrice: gbp('0.70') },
  ];

  test('of packs, with what the line costs more at the price before it', async () => {
    // 20 × (0.90 − 0.70) = 4.00.
    expect(await marginsOf(job(20, '1', { suppliers: [supplier('s')] }, { breaks }))).toEqual([
      {
        kind: 'break',
        line: 1,
        threshold: { packs: 20 },
        over: { packs: 0 },
        percent: 0,
        costs: gbp('4.00'),
      },
    ]);
    // One over 20 is 5 %.
    expect(await marginsOf(job(21, '1', { suppliers: [supplier('s')] }, { breaks }))).toBeUndefined();
  });

  test('by the metre', async () => {
    const metres = jobOf({
      parts: [wirePart('red')],
      suppliers: [supplier('s')],
      offers: [
        byTheMetre('o', 's', 'red', '0.50', {
          stepMm: 100,
          breaks: [{ fromMm: 10_000, pricePerMetre: gbp('0.40') }],
        }),
      ],
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 0, redoMm: 0, stripMm: 0 },
        wires: [wire('1', { length: { mm: 10_200, basis: 'route' } })],
      },
    });
    // 10.2 m × 0.10 = 1.02.
    expect(await marginsOf(metres)).toEqual([
      {
        kind: 'break',
        line: 1,
        threshold: { mm: 10_000 },
        over: { mm: 200 },
        percent: 2,
        costs: gbp('1.02'),
      },
    ]);
  });
});

test('the quote says it in words, on its first page and in its appendix; the list that is sent does not', async () => {
  const breaks = [{ fromPacks: 15, packPrice: gbp('1.00') }];
  const strict = { ...free, minimumOrder: gbp('14.50') };
  const result = await priced(job(15, '1.10', { suppliers: [strict] }, { breaks }));
  const [list] = result.orderLists;
  if (!list) throw new Error('nothing is bought');
  const said = [
    'The minimum order is 14.50 GBP of goods. This order is over that by 0.50 GBP (3.4 %). Below it the supplier does not take the order.',
    'Postage is free from 15.00 GBP of goods. This order comes to exactly that. Below it the order costs 3.60 GBP more.',
    'The price of line 1 holds from 15 packs. This order comes to exactly that. At the price before it the line costs 1.50 GBP more.',
  ];
  const flat = (text: string) => text.replaceAll(/\s+/g, ' ').replaceAll('&nbsp;', ' ');
  const sheet = { list, asOf: result.asOf };
  for (const sentence of said) {
    for (const own of [firstPageText(result), appendixText(result), quoteHtml(result), appendixHtml(result)])
      expect(flat(own)).toContain(sentence);
    for (const sent of [orderListText(sheet), orderListHtml(sheet), orderListCsv(list)])
      expect(flat(sent)).not.toContain(sentence.slice(0, 20));
  }
});
