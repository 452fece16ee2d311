import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { Job } from '../../worker/engine/model/job.ts';
import {
  bought,
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
} from '../engine/fixtures.ts';

type RequestInput = Partial<JobInput['request']>;

const request = (given: RequestInput): JobInput['request'] => ({
  looms: [{ loom: 'l', quantity: 1 }],
  ...given,
});
/** Two ties: 2.00 at a, 3.00 at b, 4.00 at c. */
const ties = (given: RequestInput, more: object[] = [{}, {}, {}]) =>
  needing(
    { tie: 2 },
    ['a', 'b', 'c'].map((code) => supplier(code)),
    ['a', 'b', 'c'].map((code, index) => pack(`o-${code}`, code, 'tie', 1, `${index + 1}`, more[index])),
    { request: request(given) },
  );
const codes = (result: Awaited<ReturnType<typeof priced>>) => result.findings.map(({ code }) => code);

describe('what a request asks of suppliers', () => {
  test('nothing is bought from those shut out, which is said', async () => {
    const result = await priced(ties({ shutOut: ['a'] }));
    expect(bought(result)).toEqual({ 'o-b': 2 });
    expect(result.findings).toMatchObject([{ code: 'supplier-shut-out', where: 'supplier a' }]);
  });

  test('where all are shut out, nothing is bought, and it is said who sells what is needed', async () => {
    const result = await priced(ties({ shutOut: ['c', 'b', 'a'] }));
    expect(result.purchases).toEqual([]);
    expect(result.findings).toContainEqual(
      expect.objectContaining({
        code: 'all-suppliers-shut-out',
        at: '/request/shutOut',
        found: 'a, b, c: all suppliers of what is needed',
      }),
    );
    expect(result.unsourced).toMatchObject([{ requirement: 'part:tie' }]);
  });

  test('something is bought from those insisted on, and one that has nothing is said', async () => {
    const result = await priced(ties({ insistOn: ['c'] }));
    // One at 1.00 and one at 4.00 would be 5; two at c 8. One tie of c is enough.
    expect(bought(result)).toEqual({ 'o-a': 1, 'o-c': 1 });
    const none = await priced(ties({ insistOn: ['c'] }, [{}, {}, { condition: 'used' }]));
    expect(codes(none)).toContain('insisted-supplier-sells-nothing');
    expect(bought(none)).toEqual({ 'o-a': 2 });
  });

  test('a pinned part comes from its offer alone, however dear', async () => {
    const result = await priced(ties({ pinned: [{ part: 'tie', offer: 'o-c' }] }));
    expect(bought(result)).toEqual({ 'o-c': 2 });
  });

  test('a part pinned to an offer that does not sell it is unsourced, and said', async () => {
    const result = await priced(
      needing(
        { tie: 1, clip: 1 },
        [supplier('a')],
        [pack('o-tie', 'a', 'tie', 1, '1'), pack('o-clip', 'a', 'clip', 1, '1')],
        { request: request({ pinned: [{ part: 'tie', offer: 'o-clip' }] }) },
      ),
    );
    expect(bought(result)).toEqual({ 'o-clip': 1 });
    expect(result.findings).toContainEqual(
      expect.objectContaining({ code: 'pinned-offer-does-not-sell', at: '/request/pinned/0/offer' }),
    );
    expect(result.unsourced).toMatchObject([{ requirement: 'part:tie' }]);
  });

  test('at most so many suppliers leave as few needs out as can be', async () => {
    const parts = ['x', 'y', 'z'];
    const job = (atMostSuppliers: number) =>
      needing(
        { x: 1, y: 1, z: 1 },
        ['a', 'b', 'c'].map((code) => supplier(code)),
        [
          pack('a-x', 'a', 'x', 1, '1'),
          pack('b-y', 'b', 'y', 1, '1'),
          pack('c-z', 'c', 'z', 1, '1'),
          pack('c-y', 'c', 'y', 1, '9'),
        ],
        { request: request({ atMostSuppliers }) },
      );
    expect(bought(await priced(job(3)))).toEqual({ 'a-x': 1, 'b-y': 1, 'c-z': 1 });
    expect(bought(await priced(job(2)))).toEqual({ 'a-x': 1, 'c-y': 1, 'c-z': 1 });
    const one = await priced(job(1));
    expect(bought(one)).toEqual({ 'c-y': 1, 'c-z': 1 });
    expect(one.unsourced.map(({ requirement }) => requirement)).toEqual(['part:x']);
    expect(parts).toHaveLength(3);
  });

  test('a parcel counts as a nuisance in the choice and in the proof, and is paid to nobody', async () => {
    const job = (parcelNuisance?: { amount: string; currency: string }) =>
      needing(
        { x: 1, y: 1 },
        ['a', 'b'].map((code) => supplier(code)),
        [pack('a-x', 'a', 'x', 1, '1'), pack('b-y', 'b', 'y', 1, '1'), pack('b-x', 'b', 'x', 1, '2.50')],
        { request: request(parcelNuisance ? { parcelNuisance } : {}) },
      );
    expect(bought(await priced(job()))).toEqual({ 'a-x': 1, 'b-y': 1 });
    const result = await priced(job({ amount: '2', currency: 'GBP' }));
    // 3.50 and one parcel at 2 are 5.50; 2.00 and two parcels 6.00.
    expect(bought(result)).toEqual({ 'b-x': 1, 'b-y': 1 });
    expect(result.costs.total.amount).toBe('3.50');
    expect(result.proof).toMatchObject({ cost: { amount: '5.50' }, nuisance: { amount: '2.00' } });
  });
});

describe('a day by which it is needed', () => {
  test('shuts out what takes longer, by the offer, else by its supplier', async () => {
    // asOf 2 March: by 9 March seven days are left.
    const result = await priced(ties({ neededBy: '2026-03-09' }, [{ leadDays: 8 }, { leadDays: 7 }, {}]));
    expect(bought(result)).toEqual({ 'o-b': 2 });
    expect(result.findings).toMatchObject([{ code: 'arrives-too-late', at: '/offers/0/leadDays' }]);
  });

  test('that nobody can meet is said of each need, with the earliest that can be', async () => {
    const result = await priced(
      ties({ neededBy: '2026-03-03' }, [{ leadDays: 8 }, { leadDays: 7 }, { leadDays: 30 }]),
    );
    expect(result.purchases).toEqual([]);
    expect(result.findings).toContainEqual(
      expect.objectContaining({
        code: 'date-out-of-reach',
        where: 'Part tie',
        limit: 'earliest day: 2026-03-09',
      }),
    );
  });

  test('is asked about where nobody says how long it takes', async () => {
    expect(codes(await priced(ties({ neededBy: '2026-03-03' })))).toEqual(['lead-time-not-known']);
  });
});

describe('several orders', () => {
  const looms = (quantity: number) => [
    { loom: 'l', quantity: 1, wave: 1 },
    { loom: 'l', quantity, wave: 2 },
  ];
  const job = (given: Partial<JobInput>, samples?: number) =>
    needing(
      { tie: 4 },
      [supplier('a', ['0', '3'])],
      [pack('five', 'a', 'tie', 5, '2'), pack('ten', 'a', 'tie', 10, '3.50')],
      { request: { looms: looms(2), ...(samples === undefined ? {} : { samples }) }, ...given },
    );

  test('are parcels of their own, the later ones using what the earlier leave', async () => {
    // Twelve in all: 5 + 10 at once cost 5.50 + 3; in two orders postage is paid twice. All comes with the first.
    const result = await priced(job({}));
    expect(result.orderLists.map(({ supplier: from, wave, total }) => [from, wave, total.amount])).toEqual([
      ['a', 1, '8.50'],
    ]);
  });

  test('are told apart where stock or time makes the first one small', async () => {
    const result = await priced(
      needing(
        { tie: 4 },
        [supplier('a', ['0', '3']), supplier('b')],
        [
          pack('slow', 'a', 'tie', 1, '0.10', { leadDays: 60 }),
          pack('quick', 'b', 'tie', 1, '2', { leadDays: 1 }),
        ],
        { request: { looms: looms(2), neededBy: '2026-03-09' } },
      ),
    );
    expect(
      result.purchases.map(({ offer, wave, bought: amount }) => [
        offer,
        wave,
        'packs' in amount && amount.packs,
      ]),
    ).toEqual([
      ['quick', 1, 4],
      ['slow', 2, 8],
    ]);
    expect(result.orderLists.map(({ supplier: from, wave }) => [from, wave])).toEqual([
      ['a', 2],
      ['b', 1],
    ]);
    expect(result.costs.lines.map(({ label }) => label)).toContain('Goods from Supplier a, order 2');
  });

  test('cut the pieces of a later loom from what an earlier length leaves', async () => {
    const hanks = (leadDays: number) => ({
      form: 'length' as const,
      code: 'hank',
      supplier: 'a',
      part: 'red',
      nominalMm: 5000,
      packPrice: { amount: '4', currency: 'GBP' },
      leadDays,
    });
    const result = await priced(
      jobOf({
        club: {
          currency: 'GBP',
          settings: { spareWirePercent: 0, slackPercent: 0, redoMm: 0, stripMm: 0 },
        },
        parts: [wirePart('red')],
        suppliers: [supplier('a')],
        offers: [hanks(2), byTheMetre('reel', 'a', 'red', '3', { leadDays: 2 })],
        loom: { points: points('A', 'B'), wires: [wire('W1', { length: { mm: 2400, basis: 'route' } })] },
        request: { looms: looms(1) },
      }),
    );
    expect(result.purchases.map(({ offer, wave }) => [offer, wave])).toEqual([['hank', 1]]);
    expect(result.cuttingPlans[0]?.lengths).toEqual([
      {
        offer: 'hank',
        wave: 1,
        lengths: 1,
        usableMm: 5000,
        pieces: [{ cutMm: 2400, count: 2, names: ['l/W1', 'l/W1'] }],
        offcutMm: 200,
      },
    ]);
  });

  test.each([
    ['a gap', { looms: [{ loom: 'l', quantity: 1, wave: 2 }] }, 'wave-missing'],
    [
      'samples without a later one',
      { looms: [{ loom: 'l', quantity: 1 }], samples: 2 },
      'samples-without-waves',
    ],
    ['the same loom twice in one', { looms: [...looms(1), ...looms(1)] }, 'duplicate-loom'],
    [
      'two revisions of one loom',
      {
        looms: [
          { loom: 'l', quantity: 1 },
          { loom: 'l', quantity: 1, wave: 2, revision: 1 },
        ],
      },
      'loom-in-two-revisions',
    ],
    [
      'a supplier shut out and insisted on',
      { looms: looms(1), shutOut: ['a'], insistOn: ['a'] },
      'supplier-shut-out-and-insisted',
    ],
    [
      'more insisted on than allowed',
      { looms: looms(1), insistOn: ['a', 'b'], atMostSuppliers: 1 },
      'more-insisted-than-allowed',
    ],
    [
      'a part pinned twice',
      {
        looms: looms(1),
        pinned: [
          { part: 'tie', offer: 'o' },
          { part: 'tie', offer: 'p' },
        ],
      },
      'duplicate-pin',
    ],
  ])('with %s are refused', (_what, asked, code) => {
    const read = parsed(Job, {
      format: 'loomwright-job',
      version: 1,
      asOf: '2026-03-02',
      club: { currency: 'GBP' },
      parts: [consumable('tie')],
      suppliers: [supplier('a'), supplier('b')],
      offers: [pack('o', 'a', 'tie', 1, '1'), pack('p', 'b', 'tie', 1, '1')],
      looms: [{ code: 'l', name: 'L', parts: [{ part: 'tie', quantity: 1 }] }],
      request: asked,
    });
    const found = (read.error?.issues ?? []).map((issue): unknown =>
      issue.code === 'custom' ? (issue.params?.['code'] as unknown) : issue.code,
    );
    expect(found).toContain(code);
  });
});
