import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { orderOf } from '../../worker/engine/order.ts';
import { withLongOffcuts } from '../../worker/engine/sourcing/offcuts.ts';
import type { Plan } from '../../worker/engine/sourcing/problem/problem.ts';
import { source } from '../../worker/engine/sourcing/source.ts';
import { gbp, jobOf, priced, unhurried } from '../engine/fixtures.ts';

/** Sleeve in pieces of these mm out of 5 m lengths at 5 pounds, with so much of it on the shelf. */
function sleeveOf(pieces: readonly number[], shelfMm: readonly number[] = [], settings = {}) {
  return jobOf({
    club: { currency: 'GBP', settings: { spareCoveringPercent: 0, besideSeconds: 0, ...settings } },
    parts: [{ kind: 'sleeve', code: 'sleeve', description: 'Sleeve', sleeveType: 'pvc' }],
    suppliers: [{ code: 's', name: 'S', currency: 'GBP' }],
    offers: [
      { form: 'length', code: 'five', supplier: 's', part: 'sleeve', nominalMm: 5000, packPrice: gbp('5') },
    ],
    stock: shelfMm.map((lengthMm, at): NonNullable<JobInput['stock']>[number] => {
      return { form: 'length', code: `shelf-${at}`, part: 'sleeve', lengthMm, count: 1 };
    }),
    loom: {
      coverings: pieces.map((lengthMm, at) => ({ id: `c${at}`, kind: 'pvc', part: 'sleeve', lengthMm })),
    },
  });
}

/** What can be bought for such a job, with the places of the 5 m lengths and of the shelf's. */
async function problemOf(given: ReturnType<typeof sleeveOf>) {
  const job = normaliseJob(given);
  const { order, values } = orderOf(job, unhurried);
  const { problem } = await source(job, order, values, unhurried);
  const at = (offer: string) => problem.choices.findIndex((choice) => choice.offer === offer);
  return { problem, five: at('five'), shelf: at('shelf-0') };
}

const cut = (choice: number, ...pieces: number[]) => ({
  choice,
  lengths: 1,
  pieces: pieces.map((mm) => ({ mm, count: 1, wave: 1 })),
});
const bought = (units: readonly number[], cuts: Plan['cuts'][number]): Plan => ({
  units,
  cuts: [cuts],
  unmet: [],
  without: [],
  options: [],
});

describe('the cutting plan of a quote', () => {
  // By hand: 2900 + 2100 and 2600 + 2400 fill two of three 5 m lengths, and 1000 + 1200 are left for the third.
  const pieces = [2900, 2600, 2400, 2100, 1200, 1000];

  test('leaves one long offcut, which is all that is left over', async () => {
    const result = await priced(sleeveOf(pieces));
    const [plan] = result.cuttingPlans;
    const offcuts = (plan?.lengths ?? []).flatMap(({ lengths, offcutMm }) =>
      Array<number>(lengths).fill(offcutMm),
    );
    expect(offcuts).toEqual([0, 0, 2800]);
    expect(result.leftovers.map(({ surplus }) => surplus.mm)).toEqual([2800]);
    expect(result.settings['offcutMinimumMm']).toEqual({ value: 300, origin: 'default' });
  });

  test('stays as it was found where all that is left over is too short to keep', async () => {
    const { problem, five } = await problemOf(sleeveOf(pieces));
    const found = bought([3], [cut(five, 2900, 1000), cut(five, 2600, 1200), cut(five, 2400, 2100)]);
    const cuts = (keepMm: number) =>
      withLongOffcuts(problem, found, keepMm).cuts[0]?.map((one) => one.pieces.map(({ mm }) => mm)) ?? [];
    expect(cuts(2800)).toContainEqual([1200, 1000]);
    expect(cuts(2801).sort()).toEqual([
      [2400, 2100],
      [2600, 1200],
      [2900, 1000],
    ]);
  });

  test('opens what is on the shelf before a length that is bought', async () => {
    const { problem, five, shelf } = await problemOf(sleeveOf([1900, 1900, 1900], [2000]));
    const units = problem.choices.map((_, at) => (at === five ? 2 : 1));
    const found = bought(units, [cut(five, 1900, 1900), cut(five, 1900)]);
    const { units: kept, cuts } = withLongOffcuts(problem, found, 300);
    expect(cuts[0]).toEqual([cut(shelf, 1900), { ...cut(five), pieces: [{ mm: 1900, count: 2, wave: 1 }] }]);
    // The second 5 m length is bought all the same, and stays whole.
    expect(kept).toEqual(units);
  });

  test('takes off the shelf only what it opens', async () => {
    const { problem, five, shelf } = await problemOf(sleeveOf([1900, 1900], [2000]));
    const found = bought(
      problem.choices.map(() => 1),
      [cut(shelf, 1900), cut(five, 1900)],
    );
    const { units, cuts } = withLongOffcuts(problem, found, 300);
    expect(cuts[0]?.map(({ choice }) => choice)).toEqual([five]);
    expect([units[five], units[shelf]]).toEqual([1, 0]);
  });
});
