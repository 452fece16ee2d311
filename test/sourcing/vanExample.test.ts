import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { exampleJob } from '../support/fixtures.ts';

// The figures of examples/van/README.md, worked on paper apart from the engine.
describe('the van example', async () => {
  const job = Job.parse(exampleJob('van'));
  const result = await priceJob(job, {
    remainingMs: () => 120_000,
    cancelled: () => false,
    report: () => undefined,
  });
  const bought = (offer: string) => result.purchases.find((line) => line.offer === offer);
  const count = (part: string) =>
    result.requirements.flatMap((need) => (need.kind === 'count' && need.part === part ? [need] : []))[0];
  const cutOf = (wire: string) =>
    result.requirements.flatMap((need) =>
      need.kind === 'wire' ? need.pieces.filter((piece) => piece.wire === wire) : [],
    )[0];

  test('has the size of the real thing', () => {
    const wires = job.looms.flatMap((loom) => loom.wires);
    // The figures of README.md.
    expect([wires.length, job.looms.flatMap((loom) => loom.points).length, job.offers.length]).toEqual([
      94, 82, 364,
    ]);
    expect(new Set(wires.map(({ colour }) => colour.letters)).size).toBeGreaterThanOrEqual(12);
    expect(
      new Set(job.looms.flatMap((loom) => loom.coverings.map(({ kind }) => kind))).size,
    ).toBeGreaterThanOrEqual(3);
    expect(job.suppliers).toHaveLength(8);
    expect(new Set(job.offers.map(({ form }) => form)).size).toBe(4);
  });

  test('cuts two wires as worked by hand, and says what the old size is sold as', () => {
    expect(cutOf('M3')).toMatchObject({ cutMm: 1955 });
    expect(cutOf('M3')?.steps[1]?.text).toBe('44/.012 is sold as 44/0.30, called 3 mm²');
    expect(cutOf('M18')).toMatchObject({ cutMm: 2255 });
  });

  test('counts a ring that three wires share once', () => {
    expect(count('ring-6-6')).toMatchObject({ used: 5, spares: 1, quantity: 6 });
    expect(count('ring-6-6')?.uses.filter(({ where }) => where.includes('M38'))).toMatchObject([
      { total: 1 },
    ]);
    expect(bought('thim-ring-6-6-10')).toMatchObject({ cost: { amount: '1.60' } });
  });

  test('buys 35.3 m of tape as 25 m and 15 m', () => {
    expect(bought('pin-tape-cloth-19-25m')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '4.10' } });
    expect(bought('fair-tape-cloth-19-15m')).toMatchObject({
      bought: { packs: 1 },
      cost: { amount: '2.90' },
    });
    expect(result.leftovers.find(({ requirement }) => requirement === 'part:tape-cloth-19')?.surplus.mm).toBe(
      4700,
    );
  });

  test('buys the box of blades and covers, which is cheaper than they are singly', () => {
    expect(bought('thim-blades-kit')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '9.40' } });
    expect([count('blade-63'), count('cover-63'), count('blade-63-6')].map((need) => need?.quantity)).toEqual(
      [53, 54, 6],
    );
  });

  test('keeps to the minimum order, and lists the one thing that nobody sells', () => {
    const gorsehill = result.orderLists.find(({ supplier }) => supplier === 'gorsehill');
    expect(Number(gorsehill?.goods.amount)).toBeGreaterThanOrEqual(15);
    expect(result.unsourced.map(({ requirement }) => requirement)).toEqual(['part:boot-bulkhead-3']);
  });

  test('is proven cheapest, and dearer in both other ways of buying', () => {
    expect(result.proof.status).toBe('proven');
    expect(result.costs.total.amount).toBe('234.54');
    expect(result.comparisons.map(({ kind, total, saving }) => [kind, total.amount, saving.amount])).toEqual([
      ['cheapestSinglePrices', '257.42', '22.88'],
      ['oneShop', '340.97', '106.43'],
    ]);
  });

  test('prints on each order line what a shop needs to know, in words and letters', () => {
    const lines = result.orderLists.flatMap((list) => list.lines);
    const green = lines.find(({ supplierCode }) => supplierCode === 'FL-14GW-m');
    expect(green).toMatchObject({
      colour: 'green with white tracer',
      colourLetters: 'GW',
      oneContinuousLength: true,
    });
    expect(
      lines.every(({ supplierCode, seenOn }) => supplierCode !== undefined && seenOn !== undefined),
    ).toBe(true);
  });
});
