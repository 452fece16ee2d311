import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { cutMm, requirementsOf, parsedJob } from './requirements.ts';

/** The figures that were worked by hand in examples/three-wires/README.md. */
interface WorkedByHand {
  cutMm: Record<string, number>;
  requirements: { id: string; used?: number; spares?: number; quantity?: number; totalMm?: number }[];
  leftOut: { part: string; supply: string; quantity: number }[];
  purchases: unknown[];
  orderLists: unknown[];
  exactTotal: string;
  total: string;
  cheapestSinglePrices: { total: string; saving: string; suppliers: number };
}

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
const price = (name: string) =>
  priceJob(parsedJob(read(name)), {
    remainingMs: () => 60_000,
    cancelled: () => false,
    report: () => undefined,
  });
const byText = (a: unknown, b: unknown) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

describe('the three-wire example', async () => {
  const expected = read('three-wires/expected.json') as WorkedByHand;
  const result = await price('three-wires/job.json');

  it('cuts each wire to the length worked by hand', () => {
    const pieces = result.requirements.flatMap((requirement) =>
      requirement.kind === 'wire' ? requirement.pieces : [],
    );
    expect(Object.fromEntries(pieces.map((piece) => [piece.wire, piece.cutMm]))).toEqual(expected.cutMm);
  });

  it('needs what was worked by hand, and leaves out what is reused', () => {
    const requirements = result.requirements.map((requirement) =>
      requirement.kind !== 'count'
        ? { id: requirement.id, totalMm: requirement.totalMm }
        : {
            id: requirement.id,
            used: requirement.used,
            spares: requirement.spares,
            quantity: requirement.quantity,
          },
    );
    expect(requirements.sort(byText)).toEqual(expected.requirements.sort(byText));
    expect(result.leftOut.map(({ part, supply, quantity }) => ({ part, supply, quantity }))).toEqual(
      expected.leftOut,
    );
  });

  it('buys what was worked by hand, to the penny', () => {
    const purchases = result.purchases.map(({ offer, supplier, bought, exactCost, cost }) => ({
      offer,
      supplier,
      ...(bought.form === 'metre' ? { lengthMm: bought.lengthMm } : { packs: bought.packs }),
      exactCost: exactCost.amount,
      cost: cost.amount,
    }));
    expect(purchases.sort(byText)).toEqual(expected.purchases.sort(byText));
    expect(result.orderLists.map(orderSums)).toEqual(expected.orderLists);
    expect(result.costs.total.amount).toBe(expected.total);
  });

  it('proves the exact cost, and compares with the cheapest single prices', () => {
    expect(result.proof).toMatchObject({
      status: 'proven',
      cost: { amount: expected.exactTotal },
      bound: { amount: expected.exactTotal },
    });
    expect(result.comparisons.map(comparisonSums)[0]).toEqual(expected.cheapestSinglePrices);
  });
});

describe('the trailer example', async () => {
  const job = parsedJob(read('trailer/job.json'));
  const result = await price('trailer/job.json');

  it('is a loom of 12 wires in 5 colours and 2 sizes, with about 30 offers of 3 suppliers', () => {
    const wires = job.looms.flatMap((loom) => loom.wires);
    expect(wires).toHaveLength(12);
    expect(new Set(wires.map((wire) => wire.colour.base)).size).toBe(5);
    expect(new Set(wires.map((wire) => JSON.stringify(wire.size))).size).toBe(2);
    expect(job.suppliers).toHaveLength(3);
    expect(job.offers.length).toBeGreaterThanOrEqual(28);
  });

  // The figures of examples/trailer/README.md, worked out apart from the engine.
  it('costs what its README says, and saves against the cheapest single prices', () => {
    expect(result.costs.total.amount).toBe('30.58');
    expect(result.proof).toMatchObject({ status: 'proven', bound: { amount: '30.575' } });
    expect(result.comparisons.map(comparisonSums)).toEqual([
      { total: '36.72', saving: '6.14', suppliers: 3 },
      { total: '32.19', saving: '1.61', suppliers: 1 },
    ]);
    expect(result.orderLists.map(({ supplier, total }) => [supplier, total.amount])).toEqual([
      ['mossgate', '15.37'],
      ['quillby', '15.21'],
    ]);
    expect(result.orderLists.map(({ margins }) => margins)).toEqual([
      [
        {
          kind: 'freePostage',
          threshold: { amount: '15.00', currency: 'GBP' },
          over: { amount: '0.37', currency: 'GBP' },
          percent: 2.4667,
          costs: { amount: '3.60', currency: 'GBP' },
        },
      ],
      undefined,
    ]);
    expect(result.unsourced).toEqual([]);
  });

  it('cuts every wire as the rules say, and lets four wires share one earth ring', () => {
    const [loom] = job.looms;
    const ours = loom?.wires.map((wire) => [wire.id, cutMm(job, loom, wire)] as const) ?? [];
    const pieces = result.requirements.flatMap((requirement) =>
      requirement.kind === 'wire' ? requirement.pieces : [],
    );
    expect(new Map(pieces.map((piece) => [piece.wire, piece.cutMm]))).toEqual(new Map(ours));
    expect(requirementsOf(job)).toContainEqual({ kind: 'count', part: 'ring-6', used: 1, quantity: 2 });
    expect(result.requirements).toContainEqual(
      expect.objectContaining({ part: 'ring-6', used: 1, quantity: 2 }),
    );
  });

  it('leaves out the plug and the lamps, and finds nothing wrong', () => {
    expect(result.leftOut.map(({ part, supply, quantity }) => [part, supply, quantity])).toEqual([
      ['lamp-plate', 'ownerSupplies', 1],
      ['lamp-rear', 'ownerSupplies', 2],
      ['plug-7', 'reuse', 1],
    ]);
    expect(result.findings).toEqual([]);
  });

  it('chooses the smallest braid that fits for both legs, and cuts each as its README says', () => {
    const pieces = result.requirements.flatMap((requirement) =>
      requirement.kind === 'length'
        ? requirement.pieces.map(({ what, cutMm }) => [requirement.part, what, cutMm])
        : [],
    );
    expect(pieces).toEqual([
      ['braid-5', 'covering C2', 570],
      ['braid-5', 'covering C3', 1111],
      ['braid-8', 'covering C1', 2892],
      ['shrink-12', 'covering C4', 60],
    ]);
  });
});

function orderSums({ supplier, goods, postage, rounding, total }: Result['orderLists'][number]) {
  return {
    supplier,
    goods: goods.amount,
    postage: postage.amount,
    rounding: rounding.amount,
    total: total.amount,
  };
}

function comparisonSums({ total, saving, suppliers }: Result['comparisons'][number]) {
  return { total: total.amount, saving: saving.amount, suppliers };
}

describe('the example from abroad', () => {
  // The figures of examples/from-abroad/README.md, worked on paper.
  it('buys the family that stands in, with its tool, and the wire at home', async () => {
    const result = await price('from-abroad/job.json');
    expect(result.proof).toMatchObject({ status: 'proven', cost: { amount: '40.90' } });
    expect(result.orderLists.map(({ supplier, total }) => [supplier, total.amount])).toEqual([
      ['fellgate', '5.20'],
      ['quellhof', '35.70'],
    ]);
    expect(result.orderLists[1]).toMatchObject({
      goods: { amount: '22.95' },
      postage: { amount: '6.80' },
      importTax: { amount: '5.95' },
      theirs: { goods: { amount: '32.13' }, postage: { amount: '9.52' }, taxTakenOffPercent: 19 },
    });
    expect(result.orderLists[1]).not.toHaveProperty('duty');
    expect(result.families).toEqual([{ needed: 'tarn', bought: 'wold' }]);
    expect(result.fromStock.map(({ part, count }) => [part, count])).toEqual([['ring-6', 3]]);
    const shop = result.comparisons.find(({ kind }) => kind === 'oneShop');
    expect(shop).toMatchObject({
      supplier: 'fellgate',
      total: { amount: '49.80' },
      saving: { amount: '8.90' },
    });
  });

  it('takes an empty drawer for nothing, also one of a tool or of another form', async () => {
    const job = read('from-abroad/job.json') as { stock: object[] };
    const empty = [
      { form: 'pieces', code: 'press', part: 'tarn-press', count: 0 },
      { form: 'length', code: 'rings', part: 'ring-6', count: 0, lengthMm: 1000 },
    ];
    const { jobHash: _with, ...withEmpty } = await priceJob(
      parsedJob({ ...job, stock: [...job.stock, ...empty] }),
      {
        remainingMs: () => 60_000,
        cancelled: () => false,
        report: () => undefined,
      },
    );
    const { jobHash: _without, ...without } = await price('from-abroad/job.json');
    expect(withEmpty).toEqual(without);
  });

  it('buys the old family where its press is on the shelf', async () => {
    const job = read('from-abroad/job.json') as { stock: object[] };
    const press = { form: 'pieces', code: 'press', part: 'tarn-press', count: 1 };
    const result = await priceJob(parsedJob({ ...job, stock: [...job.stock, press] }), {
      remainingMs: () => 60_000,
      cancelled: () => false,
      report: () => undefined,
    });
    expect(result.costs.total.amount).toBe('11.80');
  });
});
