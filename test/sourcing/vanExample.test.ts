import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { exampleJob } from '../support/fixtures.ts';

// The figures of examples/van/README.md, worked on paper apart from the engine.
describe('the van example', async () => {
  const van = exampleJob('van');
  const settings = { ...van.request.settings, besideSeconds: 0 };
  const job = Job.parse({ ...van, request: { ...van.request, settings } });
  const result = await priceJob(job, {
    remainingMs: () => 120_000,
    cancelled: () => false,
    report: () => undefined,
  });
  const bought = (offer: string) => result.purchases.find((line) => line.offer === offer);
  const count = (part: string) =>
    result.requirements.flatMap((requirement) =>
      requirement.kind === 'count' && requirement.part === part ? [requirement] : [],
    )[0];
  const cutOf = (wire: string) =>
    result.requirements.flatMap((requirement) =>
      requirement.kind === 'wire' ? requirement.pieces.filter((piece) => piece.wire === wire) : [],
    )[0];

  const lengthOf = (id: string) =>
    result.requirements.flatMap((requirement) =>
      requirement.kind !== 'count' && requirement.id === id ? [requirement] : [],
    )[0];
  const coveringOf = (loom: string, covering: string) =>
    result.requirements.flatMap((requirement) =>
      requirement.kind === 'length'
        ? requirement.pieces
            .filter((piece) => piece.loom === loom && piece.what === `covering ${covering}`)
            .map(({ cutMm }) => ({ part: requirement.id, cutMm }))
        : [],
    )[0];

  test('has the size of the real thing', () => {
    const wires = job.looms.flatMap((loom) => loom.wires);
    // The figures of README.md.
    expect([wires.length, job.looms.flatMap((loom) => loom.points).length, job.offers.length]).toEqual([
      94, 94, 418,
    ]);
    expect(new Set(wires.map(({ colour }) => colour.letters)).size).toBeGreaterThanOrEqual(12);
    expect(
      new Set(job.looms.flatMap((loom) => loom.coverings.map(({ kind }) => kind))).size,
    ).toBeGreaterThanOrEqual(3);
    expect(job.suppliers).toHaveLength(8);
    expect(new Set(job.offers.map(({ form }) => form)).size).toBe(4);
  });

  test('cuts wires as worked by hand, and says what the old size is sold as', () => {
    expect(cutOf('M3')).toMatchObject({ cutMm: 1955 });
    expect(cutOf('M3')?.steps[1]?.text).toBe('44/.012 is sold as 44/0.30, called 3 mm²');
    expect(cutOf('M18')).toMatchObject({ cutMm: 2255 });
    // Along its way alone, and measured as well as along its way.
    expect(cutOf('M64')).toMatchObject({ cutMm: 1625 });
    expect(cutOf('M60')).toMatchObject({ cutMm: 1645 });
  });

  test('adds a tenth of a colour as spare wire, a metre at the most, and none to the battery cables', () => {
    const greenWhite = lengthOf('wire:pvc-vehicle:1mm2:green+white');
    expect(greenWhite?.totalMm).toBe(10_040 + 1000);
    expect(lengthOf('wire:pvc-vehicle:1mm2:green+white')).toMatchObject({
      spares: [{ cutMm: 1000, count: 1 }],
    });
    expect(bought('fair-pvc-14-gw-m')).toMatchObject({
      bought: { lengthMm: 12_000 },
      cost: { amount: '5.18' },
    });
  });

  test('chooses sleeves that the bundle goes through, and cuts them to length', () => {
    expect(coveringOf('ostler-main', 'C1')).toMatchObject({ part: 'part:braid-16', cutMm: 345 });
    expect(coveringOf('ostler-main', 'C2')).toMatchObject({ part: 'part:braid-20', cutMm: 725 });
    expect(coveringOf('ostler-main', 'C5')).toMatchObject({ part: 'part:braid-10', cutMm: 365 });
    expect(coveringOf('ostler-main', 'C10')).toMatchObject({ part: 'part:pvc-10', cutMm: 1030 });
    expect(coveringOf('ostler-main', 'C12')).toMatchObject({ part: 'part:pvc-4', cutMm: 730 });
    const chosen = job.looms.flatMap(({ coverings }) => coverings.filter(({ part }) => part === undefined));
    expect([...new Set(chosen.map(({ kind }) => kind))].sort()).toEqual(['braided', 'heatShrink', 'pvc']);
    expect(chosen).toHaveLength(21);
  });

  test('counts a ring that three wires share once', () => {
    expect(count('ring-6-6')).toMatchObject({ used: 5, spares: 1, quantity: 6 });
    expect(count('ring-6-6')?.uses.filter(({ where }) => where.includes('M38'))).toMatchObject([
      { total: 1 },
    ]);
    expect(bought('thim-ring-6-6-10')).toMatchObject({ cost: { amount: '1.60' } });
  });

  test('winds 4385 mm of tape over the bulkhead, and buys 36.945 m with its spare as 25 m and 15 m', () => {
    expect(coveringOf('ostler-main', 'C3')).toMatchObject({ part: 'part:tape-cloth-19', cutMm: 4385 });
    expect(bought('pin-tape-cloth-19-25m')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '4.10' } });
    expect(bought('fair-tape-cloth-19-15m')).toMatchObject({
      bought: { packs: 1 },
      cost: { amount: '2.90' },
    });
    expect(result.leftovers.find(({ requirement }) => requirement === 'part:tape-cloth-19')?.surplus.mm).toBe(
      40_000 - 36_945,
    );
  });

  test('buys a stick and half a metre of heat-shrink for eight pieces and their spare', () => {
    expect(lengthOf('part:shrink-95')?.totalMm).toBe(1015 + 380);
    expect(bought('pin-shrink-95-1.2m')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '1.25' } });
    expect(bought('fair-shrink-95-0.5m')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '0.85' } });
  });

  test('buys the box of blades and covers, which is cheaper than they are singly', () => {
    expect(bought('thim-blades-kit')).toMatchObject({ bought: { packs: 1 }, cost: { amount: '9.40' } });
    expect(
      [count('blade-63'), count('cover-63'), count('blade-63-6')].map((requirement) => requirement?.quantity),
    ).toEqual([54, 59, 5]);
  });

  test('keeps to the minimum order, and lists the one thing that nobody sells', () => {
    const gorsehill = result.orderLists.find(({ supplier }) => supplier === 'gorsehill');
    expect(gorsehill?.total.amount).toBe('38.02');
    expect(result.unsourced.map(({ requirement }) => requirement)).toEqual(['part:boot-bulkhead-3']);
  });

  test('is told of what nobody sells, old prices and used offers, and of nothing in the looms that is not accepted', () => {
    const open = result.findings.filter(({ accepted }) => accepted === undefined);
    expect(open.map(({ severity, code }) => `${severity} ${code}`)).toEqual([
      'warning price-may-be-old',
      'warning unsourced',
      ...Array<string>(4).fill('note condition-not-accepted'),
    ]);
  });

  test('is proven cheapest, and dearer in both other ways of buying', () => {
    expect(result.proof.status).toBe('proven');
    expect(result.costs.total.amount).toBe('253.32');
    expect(result.comparisons.map(({ kind, total, saving }) => [kind, total.amount, saving.amount])).toEqual([
      ['cheapestSinglePrices', '276.15', '22.83'],
      ['oneShop', '373.84', '120.52'],
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
