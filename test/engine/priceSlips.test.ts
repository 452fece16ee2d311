import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import {
  byTheMetre,
  consumable,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  wire,
  wirePart,
} from './fixtures.ts';

type OfferInput = JobInput['offers'][number];

const CODES = ['price-unlike-others', 'price-unlike-own-pack'];
const SELLERS = ['a', 'b', 'c', 'd'];

async function slips(offers: OfferInput[], more: Partial<JobInput> = {}): Promise<Finding[]> {
  const job = needing(
    { tie: 3 },
    SELLERS.map((code) => supplier(code)),
    offers,
    more,
  );
  return (await priced(job)).findings.filter(({ code }) => CODES.includes(code));
}

/** One pack of ten at each of these prices, from sellers of their own. */
const tens = (...prices: string[]) =>
  prices.map((price, index) => pack(`o${index + 1}`, SELLERS[index] ?? '', 'tie', 10, price));

describe('a price unlike that of the other sellers', () => {
  test('is asked about where it is bought at under a fifth of their median', async () => {
    expect(await slips(tens('0.39', '2.00', '2.20'))).toMatchObject([
      {
        code: 'price-unlike-others',
        severity: 'warning',
        at: '/offers/0/packPrice',
        where: 'offer o1 of a',
        found: '0.039 GBP a piece; the median of 2 others is 0.2 GBP a piece',
      },
    ]);
  });

  test('passes at a fifth of it', async () => {
    expect(await slips(tens('0.40', '2.00', '2.20'))).toEqual([]);
  });

  test('is asked about where it is bought at more than five times their median, as where it is pinned', async () => {
    const pinned = (price: string) =>
      slips(tens('2.00', '2.20', price), {
        request: { looms: [{ loom: 'l', quantity: 1 }], pinned: [{ part: 'tie', offer: 'o3' }] },
      });
    expect(await pinned('11.10')).toMatchObject([{ where: 'offer o3 of c' }]);
    expect(await pinned('11.00')).toEqual([]);
    // Dear and not bought, it harms nobody.
    expect(await slips(tens('2.00', '2.20', '11.10'))).toEqual([]);
  });

  test('is asked about where it asks the least, though postage makes it dearer', async () => {
    const job = needing(
      { tie: 3 },
      [supplier('a', ['0', '30']), supplier('b'), supplier('c')],
      tens('0.39', '2.00', '2.20'),
    );
    const { findings, purchases } = await priced(job);
    expect(purchases).toMatchObject([{ offer: 'o2' }]);
    expect(findings.filter(({ code }) => CODES.includes(code))).toMatchObject([{ where: 'offer o1 of a' }]);
  });

  test('needs two others, and is not told of the others where it is the slip', async () => {
    expect(await slips(tens('0.20', '2.00'))).toEqual([]);
    expect(await slips(tens('2.00', '2.00', '20.00'))).toEqual([]);
  });

  test('is compared in the club’s currency', async () => {
    const yen = (code: string, from: string, price: string) =>
      pack(code, from, 'tie', 10, price, { packPrice: { amount: price, currency: 'JPY' } });
    const job = (price: string) =>
      needing(
        { tie: 3 },
        [{ ...supplier('a'), currency: 'JPY' }, supplier('b'), supplier('c')],
        [yen('o1', 'a', price), ...tens('', '2.00', '2.20').slice(1)],
        { rates: [{ code: 'r', currency: 'JPY', on: '2026-03-01', rate: '0.005' }] },
      );
    const told = async (price: string) =>
      (await priced(job(price))).findings.filter(({ code }) => CODES.includes(code)).length;
    // 70 yen are 0.35; 380 yen are 1.90.
    expect([await told('70'), await told('380')]).toEqual([1, 0]);
  });

  test('is not that of a pack many times as large, of a break, or of a used part', async () => {
    expect(await slips([pack('o1', 'a', 'tie', 260, '2.60'), ...tens('', '2.00', '2.20').slice(1)])).toEqual(
      [],
    );
    const breaks = [{ fromPacks: 50, packPrice: { amount: '0.30', currency: 'GBP' } }];
    expect(
      await slips([pack('o1', 'a', 'tie', 10, '1.90', { breaks }), ...tens('', '2.00', '2.20').slice(1)]),
    ).toEqual([]);
    const settings = { conditionsAccepted: ['new' as const, 'used' as const] };
    expect(
      await slips(
        [pack('o1', 'a', 'tie', 10, '0.30', { condition: 'used' }), ...tens('', '2.00', '2.20').slice(1)],
        {
          club: { currency: 'GBP', settings },
        },
      ),
    ).toEqual([]);
  });

  test('is that of a metre too, by the metre or in lengths', async () => {
    const job = jobOf({
      parts: [wirePart('red')],
      suppliers: SELLERS.map((code) => supplier(code)),
      offers: [
        byTheMetre('o1', 'a', 'red', '0.039'),
        byTheMetre('o2', 'b', 'red', '0.38'),
        {
          form: 'length',
          code: 'o3',
          supplier: 'c',
          part: 'red',
          nominalMm: 10_000,
          packPrice: { amount: '4.00', currency: 'GBP' },
        },
      ],
      loom: { points: points('A', 'B'), wires: [wire('1')] },
    });
    expect((await priced(job)).findings).toMatchObject([
      { code: 'price-unlike-others', found: '0.039 GBP a metre; the median of 2 others is 0.38 GBP a metre' },
    ]);
  });
});

describe('two packs of one seller', () => {
  const two = (hundred: string) => [
    pack('ten', 'a', 'tie', 10, '3.00'),
    pack('hundred', 'a', 'tie', 100, hundred),
  ];

  test('ten times apart by the piece are asked about', async () => {
    expect(await slips(two('2.50'))).toMatchObject([
      {
        code: 'price-unlike-own-pack',
        where: 'offer hundred of a',
        found: '0.025 GBP a piece; offer ten of the same supplier asks 0.3 GBP a piece',
      },
    ]);
    expect(await slips(two('3.00'))).toHaveLength(1);
  });

  test('pass below that: what is bought by the hundred is cheaper', async () => {
    expect(await slips(two('3.10'))).toEqual([]);
  });
});

test('an offer of what is not needed is not looked at', async () => {
  const offers = ['x', ...SELLERS].flatMap((code, index) =>
    index === 0 ? [] : [pack(`k${code}`, code, 'clip', 10, index === 1 ? '0.10' : '2.00')],
  );
  expect(
    await slips([...tens('2.00'), ...offers], { parts: [consumable('tie'), consumable('clip')] }),
  ).toEqual([]);
});
