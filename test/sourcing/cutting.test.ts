import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';

type Stock = readonly [nominalMm: number, price: number];
type Piece = readonly [mm: number, count: number];

/** Pieces of one sleeve out of bought lengths at whole pounds each, priced through the whole engine. */
async function cut(stocks: readonly Stock[], pieces: readonly Piece[], seconds = 60) {
  const money = (amount: number) => ({ amount: `${amount}`, currency: 'GBP' });
  const coverings = pieces.flatMap(([mm, count], index) =>
    Array.from({ length: count }, (_, at) => ({
      id: `c${index}-${at}`,
      kind: 'pvc',
      part: 'sleeve',
      lengthMm: mm,
    })),
  );
  const job = Job.parse({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-24',
    club: { currency: 'GBP' },
    parts: [{ kind: 'sleeve', code: 'sleeve', description: 'Sleeve', sleeveType: 'pvc' }],
    suppliers: [{ code: 's', name: 'S', currency: 'GBP' }],
    offers: stocks.map(([nominalMm, price]) => ({
      form: 'length',
      code: `length-${nominalMm}`,
      supplier: 's',
      part: 'sleeve',
      nominalMm,
      packPrice: money(price),
    })),
    looms: [{ code: 'l', name: 'L', coverings }],
    request: { looms: [{ loom: 'l', quantity: 1 }] },
  });
  const until = performance.now() + seconds * 1000;
  const result = await priceJob(job, {
    remainingMs: () => Math.max(0, until - performance.now()),
    cancelled: () => false,
    report: () => undefined,
  });
  const { status, cost, bound } = result.proof;
  return { status, cost: Number(cost.amount), bound: Number(bound.amount), plan: result.cuttingPlans[0] };
}

describe('published cutting-stock examples, each length at one price, through the whole engine', () => {
  test.each<[source: string, stock: number, pieces: Piece[], optimum: number]>([
    [
      'Chvátal, Linear Programming, p. 195',
      100,
      [
        [45, 97],
        [36, 610],
        [31, 395],
        [14, 211],
      ],
      453,
    ],
    [
      'Wikipedia, Cutting stock problem, paper rolls',
      5600,
      [
        [1380, 22],
        [1520, 25],
        [1560, 12],
        [1710, 14],
        [1820, 18],
        [1880, 18],
        [1930, 20],
        [2000, 10],
        [2050, 12],
        [2100, 14],
        [2140, 16],
        [2150, 18],
        [2200, 20],
      ],
      73,
    ],
    [
      'Fourer, Gay and Kernighan, AMPL, ch. 15',
      110,
      [
        [20, 48],
        [45, 35],
        [50, 24],
        [55, 10],
        [75, 8],
      ],
      47,
    ],
    [
      'VPSolver, example csp.vbp',
      5180,
      [
        [1120, 9],
        [1250, 5],
        [520, 91],
        [1066, 18],
        [1000, 11],
        [1150, 64],
      ],
      33,
    ],
  ])('%s', async (_source, stock, pieces, optimum) => {
    const { status, cost, plan } = await cut([[stock, 1]], pieces);
    expect({ status, cost, exact: plan?.exact }).toEqual({ status: 'proven', cost: optimum, exact: true });
  });

  test('several lengths at prices of their own: VPSolver, example vsbpp', async () => {
    const pieces = [
      10, 14, 17, 19, 19, 24, 29, 32, 33, 36, 38, 40, 50, 54, 55, 63, 66, 71, 77, 77, 79, 83, 92, 95, 99,
    ].map((mm): Piece => [mm, 1]);
    const stocks: Stock[] = [
      [100, 100],
      [120, 120],
      [150, 150],
    ];
    const { cost, bound } = await cut(stocks, pieces, 30);
    // So many patterns are not all tried; then what is said must still enclose the optimum, 1280.
    expect(cost).toBeGreaterThanOrEqual(1280);
    expect(cost).toBeLessThanOrEqual(1400);
    expect(bound).toBeLessThanOrEqual(1280);
  });
});

// Read from beside the project where they are: ESICUP collection, CC0.
const DATA = new URL('../../../shared/data/bin-packing/', import.meta.url);

interface Instance {
  name: string;
  stock: number;
  pieces: Piece[];
}

function schwerin(most: number): Instance[] {
  const lines = readFileSync(new URL('schwerin-1.bpp', DATA), 'utf8').trim().split(/\r?\n/);
  const instances: Instance[] = [];
  for (let at = 0; at < lines.length && instances.length < most;) {
    const count = Number(lines[at + 1]);
    const pieces = lines.slice(at + 3, at + 3 + count).map((line): Piece => {
      const [mm = 0, times = 0] = line.trim().split(/\s+/).map(Number);
      return [mm, times];
    });
    instances.push({ name: lines[at] ?? '', stock: Number(lines[at + 2]), pieces });
    at += 3 + count;
  }
  return instances;
}

describe.skipIf(!existsSync(DATA))('instances that the literature solves, where they are at hand', () => {
  test('Schwerin & Wäscher 1997: the optimum, 18, lies between what is bought and what is proven', async () => {
    for (const { name, stock, pieces } of schwerin(10)) {
      const { cost, bound, plan } = await cut([[stock, 1]], pieces, 10);
      const cutPieces =
        plan?.lengths.flatMap(({ lengths, pieces: own }) => own.map(({ count }) => lengths * count)) ?? [];
      expect(cutPieces.reduce((sum, count) => sum + count, 0)).toBe(
        pieces.reduce((sum, [, count]) => sum + count, 0),
      );
      expect({ name, low: bound <= 18, high: cost >= 18 && cost <= 20 }).toEqual({
        name,
        low: true,
        high: true,
      });
    }
  });
});
