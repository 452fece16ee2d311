import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { besideOf } from '../../worker/engine/beside/beside.ts';
import { Pool } from '../../worker/engine/beside/pool.ts';
import { priceJob } from '../../worker/engine/engine.ts';
import type { Control } from '../../worker/engine/model/control.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { Result } from '../../worker/engine/model/result.ts';
import { changed } from '../../worker/engine/sourcing/problem/changed.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { minorToAmount, toMinor } from '../../worker/engine/units/money.ts';
import { problemOf } from '../bench/direct.ts';
import { arbitraryJob } from '../engine/arbitraryJob.ts';
import { unhurried } from '../engine/fixtures.ts';
import { instance } from '../sourcing/whole/instances.ts';
import { deliveredPence, jobOfPacks, meets, packJob } from './packJobs.ts';

/** Time without a clock: so many looks at what is left, ten milliseconds each; it is all gone after the last. */
function looks(count: number): Control {
  let left = count;
  return {
    ...unhurried,
    remainingMs: () => (Number.isFinite(count) ? Math.max(0, left--) * 10 : Infinity),
  };
}

/** None, little, enough for some, all there is: for the quote, and for what lies beside it. */
const LIMITS = [
  [0, 0],
  [0, 3],
  [0, 40],
  [2, 0],
  [3, 12],
  [12, 400],
  [0, Infinity],
  [Infinity, 0],
  [Infinity, Infinity],
] as const;

async function priced(job: Job, [quote, beside]: (typeof LIMITS)[number]): Promise<Result> {
  const settings = { ...job.request.settings, besideSeconds: 3600 };
  const asked = { ...job, request: { ...job.request, settings } };
  return Result.parse(await priceJob(asked, looks(quote), { beside: () => looks(beside) }));
}

/** Exact amounts in fractions of the currency; those without an end are printed to thirty decimals. */
function exact({ amount }: { amount: string }): bigint {
  const [whole = '', decimals = ''] = amount.split('.');
  return BigInt(`${whole}${decimals.padEnd(30, '0')}`);
}

interface Row {
  name: string;
  suppliers: readonly string[];
  unmet: number;
  cost: bigint;
  bound: bigint;
  /** Known of those rows that ask for it. */
  leadDays?: number;
  /** Whether another row's mix satisfies what this one asks, as far as the result tells. */
  takes(other: Row): boolean;
  /** Whether each mix that satisfies what this one asks satisfies what the other asks. */
  isStricter(than: Row): boolean;
  atMost?: number;
}

/** Every mix of a result, with what is asked of it. Suppliers insisted on are in all of them. */
function rowsOf({ beside, proof, orderLists }: Result): Row[] {
  if (!beside) return [];
  const own = [...new Set(orderLists.map(({ supplier }) => supplier))].sort();
  const unmet = beside.bySuppliers.at(-1)?.unmet ?? 0;
  const isOther = ({ suppliers }: Row) => suppliers.join() !== own.join();
  const amounts = (mix: NonNullable<typeof beside.otherSet>) => ({
    suppliers: mix.suppliers,
    unmet: mix.unmet,
    cost: exact(mix.cost),
    bound: exact(mix.bound),
  });
  const isQuote = (row: Row) => row.name === 'quote';
  return [
    {
      ...{ name: 'quote', suppliers: own, unmet, cost: exact(proof.cost), bound: exact(proof.bound) },
      takes: () => true,
      isStricter: isQuote,
    },
    ...beside.bySuppliers.map((mix): Row => ({
      ...amounts(mix),
      name: `at most ${mix.atMost}`,
      atMost: mix.atMost,
      takes: ({ suppliers }) => suppliers.length <= mix.atMost,
      isStricter: (than) =>
        isQuote(than) ||
        (than.atMost !== undefined && mix.atMost <= than.atMost) ||
        (than.name === 'other set' && mix.atMost < own.length),
    })),
    ...beside.byDay.map((mix): Row => ({
      ...amounts(mix),
      name: `within ${mix.leadDays}`,
      leadDays: mix.leadDays,
      takes: ({ leadDays }) => leadDays !== undefined && leadDays <= mix.leadDays,
      isStricter: (than) => isQuote(than) || (than.leadDays !== undefined && mix.leadDays <= than.leadDays),
    })),
    ...(beside.otherSet
      ? [
          {
            ...amounts(beside.otherSet),
            name: 'other set',
            takes: (row: Row) => isOther(row) && row.unmet <= unmet,
            isStricter: isQuote,
          },
        ]
      : []),
  ];
}

/** What contradicts what in a result; nothing where all goes together. */
function contradictions(result: Result): string[] {
  const rows = rowsOf(result);
  const wrong: string[] = [];
  const { beside, comparisons, proof } = result;
  for (const one of rows) {
    if (one.bound > one.cost) wrong.push(`the bound of ${one.name} is above its cost`);
    for (const other of rows) {
      const isBetter = other.unmet < one.unmet || (other.unmet === one.unmet && other.cost < one.cost);
      if (one.takes(other) && isBetter) wrong.push(`${other.name} is better than ${one.name}`);
      if (one.isStricter(other) && one.unmet <= other.unmet && one.bound < other.bound)
        wrong.push(`the bound of ${one.name} is below that of ${other.name}`);
    }
  }
  if (!beside) return wrong;
  const [quote] = rows;
  for (const { name, suppliers, unmet } of rows)
    if (!beside.otherSet && unmet <= (quote?.unmet ?? 0) && suppliers.join() !== quote?.suppliers.join())
      wrong.push(`${name} is from another set, of which none is told`);
  // What is compared is what stands beside.
  const shop = comparisons.find(({ kind }) => kind === 'oneShop');
  const [first] = beside.bySuppliers;
  const said = first?.atMost === 1 && first.suppliers.length === 1 ? first : undefined;
  if (JSON.stringify([shop?.total, shop?.unsourced]) !== JSON.stringify([said?.total, said?.unmet]))
    wrong.push(`one shop is ${shop?.total.amount} compared and ${said?.total.amount} beside`);
  // As they are paid nuisances count nothing, and each parcel is rounded.
  if (proof.nuisance === undefined) {
    const slack = 0.005 * 2 * (result.looms.length + result.orderLists.length + 8);
    for (const { saving, unsourced, kind } of comparisons)
      if (unsourced <= (quote?.unmet ?? 0) && Number(saving.amount) < -slack)
        wrong.push(`${kind} costs less than the quote`);
    for (const { offer, more } of beside.elsewhere)
      if (more && Number(more.amount) < -slack) wrong.push(`${offer} elsewhere costs less than the quote`);
  }
  return wrong;
}

/** Of the same row, what little time claims that no mix goes below, against what all the time finds. */
function tooHigh(hurried: Result, ample: Result): string[] {
  const found = rowsOf(ample);
  return rowsOf(hurried).flatMap(({ name, bound, unmet }) => {
    const row = found.find((other) => other.name === name);
    return row && name !== 'other set' && row.unmet <= unmet && row.cost < bound
      ? [`${name}: a bound of ${bound}, and a mix of ${row.cost}`]
      : [];
  });
}

const JOBS: readonly (readonly [string, Job])[] = [
  ...Array.from({ length: 12 }, (_, index) => 5 + 101 * index).map(
    (seed) => [`instance ${seed}`, instance(seed)] as const,
  ),
  ...Array.from({ length: 6 }, (_, index) => 31 + index).map(
    (seed) => [`packs ${seed}`, jobOfPacks(packJob(seed))] as const,
  ),
];

describe('what is known of other mixes is one pool', () => {
  test('no row is worse than another that satisfies it too, under every time limit; no bound is too high', async () => {
    const wrong: string[] = [];
    let open = 0;
    let rows = 0;
    for (const [name, job] of JOBS) {
      const ample = await priced(job, [Infinity, Infinity]);
      for (const limit of LIMITS) {
        const result = await priced(job, limit);
        if (result.proof.status === 'bestSoFar') open++;
        rows += rowsOf(result).length;
        for (const said of [...contradictions(result), ...tooHigh(result, ample)])
          wrong.push(`${name}, ${limit.join(' and ')} looks: ${said}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(open).toBeGreaterThan(50);
    expect(rows).toBeGreaterThan(300);
  }, 300_000);

  test('what is found beside a quote that was not proven and is dear is the quote from then on, and can be bought', async () => {
    let better = 0;
    for (let seed = 41; seed < 56; seed++) {
      const job = packJob(seed);
      const problem = problemOf(jobOfPacks(job));
      // The least of those that buy from everybody.
      const insistOn = problem.suppliers.map(({ code }) => code).sort();
      const dear = await solveProblem(changed(problem, { insistOn }), unhurried);
      const solved = { ...dear, bound: 0n, proven: false, stoppedBy: 'time' as const };
      const pool = new Pool(problem, [], solved);
      const { elsewhere, bySuppliers, otherSet } = await besideOf(pool, 60, unhurried);
      const { plan, cost } = pool.quote();
      const others = [...bySuppliers.map(({ mix }) => mix), ...(otherSet ? [otherSet] : [])];
      const costs = [...others, ...elsewhere].flatMap((other) => ('cost' in other ? [other.cost] : []));
      expect([seed, costs.filter((other) => other < cost)]).toEqual([seed, []]);
      const units = Object.fromEntries(problem.choices.map(({ offer }, at) => [offer, plan.units[at] ?? 0]));
      expect(meets(job, units)).toBe(true);
      expect(minorToAmount(toMinor(cost, problem.scale), 'GBP')).toBe(
        ((deliveredPence(job, units) ?? NaN) / 100).toFixed(2),
      );
      if (cost < dear.cost) better++;
    }
    expect(better).toBeGreaterThan(5);
  });

  test('holds for any job', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJob, fc.constantFrom(...LIMITS), async (job, limit) => {
        expect(contradictions(await priced(job, limit))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});
