import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { orderOf } from '../../worker/engine/order.ts';
import { withLongOffcuts } from '../../worker/engine/sourcing/offcuts.ts';
import { costOf } from '../../worker/engine/sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../../worker/engine/sourcing/problem/problem.ts';
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

  // A length of 5 m and one of 1.3 m lie on the shelf, by code in either order, and 1.2 m is needed.
  test.each([
    [[5000, 1300], 'shelf-1'],
    [[1300, 5000], 'shelf-0'],
  ])('opens the shortest length of the shelf that serves: of %j', async (shelfMm, item) => {
    const result = await priced(sleeveOf([1200], shelfMm));
    expect(result.fromStock.map(({ stock }) => stock)).toEqual([item]);
    expect(result.cuttingPlans[0]?.lengths.map(({ offcutMm }) => offcutMm)).toEqual([100]);
    expect(result.orderLists).toEqual([]);
  });

  test('takes a shorter length of the shelf than the mix did, and buys the same', async () => {
    const { problem, five, shelf } = await problemOf(sleeveOf([4900, 1200], [5000, 1300, 1100]));
    const units = problem.choices.map((_, at) => Number(at === five || at === shelf));
    const found = bought(units, [cut(five, 4900), cut(shelf, 1200)]);
    const { units: kept, cuts, ...rest } = withLongOffcuts(problem, found, 300);
    const places = [0, 1, 2].map((at) => problem.choices.findIndex(({ offer }) => offer === `shelf-${at}`));
    expect(cuts[0]).toEqual([cut(places[0] ?? -1, 4900), cut(places[1] ?? -1, 1200)]);
    expect([kept[five], ...places.map((at) => kept[at])]).toEqual([1, 1, 1, 0]);
    expect(rest).toEqual({ unmet: [], without: [], options: [] });
  });

  test('opens a stand-in on the shelf only where the mix took it', async () => {
    const { problem, shelf } = await problemOf(sleeveOf([1200], [5000, 1300]));
    const short = problem.choices.findIndex(({ offer }) => offer === 'shelf-1');
    const standsIn = (_: number, choice: number) => choice === short;
    const openedBy = (taken: number) => {
      const units = problem.choices.map((_, at) => Number(at === taken));
      const { cuts } = withLongOffcuts(problem, bought(units, [cut(taken, 1200)]), 300, standsIn);
      return cuts[0]?.map(({ choice }) => choice);
    };
    expect([openedBy(shelf), openedBy(short)]).toEqual([[shelf], [short]]);
  });

  test('opens an item of the shelf that two requirements share only as often as it is there', async () => {
    const { problem, shelf } = await problemOf(sleeveOf([1200], [5000, 1300]));
    const [only] = problem.requirements;
    const short = problem.choices.findIndex(({ offer }) => offer === 'shelf-1');
    if (!only) throw new Error('one sleeve is needed');
    // The same again for a second requirement, from the same two items.
    const next = problem.choices.length;
    const own = [shelf, short];
    const again = own.map((at) => {
      const choice = problem.choices[at];
      if (!choice) throw new Error('both lie on the shelf');
      return { ...choice, serves: choice.serves.map(({ each }) => ({ requirement: 1, each })) };
    });
    const shared: Problem = {
      ...problem,
      requirements: [
        { ...only, choices: own },
        { ...only, id: 'again', choices: [next, next + 1] },
      ],
      choices: [...problem.choices, ...again],
      sharedStock: own.map((at, index) => ({ choices: [at, next + index], mostUnits: 1 })),
    };
    const openedFrom = (first: number, second: number) => {
      const units = shared.choices.map((_, at) => Number(at === first || at === second));
      const plan = { ...bought(units, [cut(first, 1200)]), cuts: [[cut(first, 1200)], [cut(second, 1200)]] };
      return withLongOffcuts(shared, plan, 300).cuts.map((each) => each.map(({ choice }) => choice));
    };
    // The short one is the second requirement's; and where it is the first one's, the second keeps the long one.
    expect(openedFrom(shelf, next + 1)).toEqual([[shelf], [next + 1]]);
    expect(openedFrom(short, next)).toEqual([[short], [next]]);
  });

  test('opens the fewest lengths of the shelf, and of these the shortest, of all that come out', async () => {
    const sizes = fc.array(fc.integer({ min: 4, max: 20 }), { minLength: 1, maxLength: 4 });
    const drawn = fc.record({ shelf: sizes, pieces: sizes });
    let shorter = 0;
    await fc.assert(
      fc.asyncProperty(drawn, async ({ shelf, pieces }) => {
        const shelfMm = shelf.map((size) => size * 100);
        const piecesMm = pieces.map((size) => size * 100);
        const best = fewestThenShortest(shelfMm, piecesMm);
        fc.pre(best !== undefined);
        const { problem } = await problemOf(sleeveOf(piecesMm, shelfMm));
        // The longest first: a mix that is indifferent to size may take any.
        const longest = [...shelfMm.keys()].sort((a, b) => (shelfMm[b] ?? 0) - (shelfMm[a] ?? 0));
        const given = firstFit(longest, shelfMm, piecesMm);
        fc.pre(given !== undefined);
        const places = shelfMm.map((_, at) =>
          problem.choices.findIndex(({ offer }) => offer === `shelf-${at}`),
        );
        const cuts = (given ?? []).map(([at, own]) => cut(places[at] ?? -1, ...own));
        const units = problem.choices.map((_, at) => cuts.filter(({ choice }) => choice === at).length);
        const found = bought(units, cuts);
        const after = withLongOffcuts(problem, found, 300);
        const opened = places.flatMap((place, at) => ((after.units[place] ?? 0) > 0 ? [at] : []));
        const total = opened.reduce((sum, at) => sum + (shelfMm[at] ?? 0), 0);
        expect([opened.length, total]).toEqual(best);
        const before = (given ?? []).reduce((sum, [at]) => sum + (shelfMm[at] ?? 0), 0);
        if (given?.length === opened.length && total < before) shorter++;
        // What is paid and what is bought stay as they were.
        expect(costOf(problem, after)).toBe(costOf(problem, found));
        const ofSuppliers = (plan: Plan) => plan.units.filter((_, at) => !places.includes(at));
        expect(ofSuppliers(after)).toEqual(ofSuppliers(found));
      }),
      { seed: 20261128, numRuns: 40 },
    );
    expect(shorter).toBeGreaterThan(5);
  });
});

/** Of all ways to cut all pieces: lengths opened and their mm, by trying each set of lengths and each place for each piece. */
function fewestThenShortest(
  shelfMm: readonly number[],
  piecesMm: readonly number[],
): [opened: number, mm: number] | undefined {
  const comesOut = (left: readonly number[], [first, ...others]: readonly number[]): boolean =>
    first === undefined || left.some((mm, at) => mm >= first && comesOut(left.with(at, mm - first), others));
  let best: [number, number] | undefined;
  for (let set = 1; set < 2 ** shelfMm.length; set++) {
    const own = shelfMm.filter((_, at) => (set >> at) % 2 === 1);
    if (!comesOut(own, piecesMm)) continue;
    const mm = own.reduce((sum, each) => sum + each, 0);
    if (!best || own.length < best[0] || (own.length === best[0] && mm < best[1])) best = [own.length, mm];
  }
  return best;
}

/** Each piece, the longest first, in the first length that holds it: the lengths that are opened, with what comes out of them. */
function firstFit(
  order: readonly number[],
  lengthsMm: readonly number[],
  piecesMm: readonly number[],
): [length: number, pieces: number[]][] | undefined {
  const lengths = order.map((at) => ({ at, left: lengthsMm[at] ?? 0, pieces: [] as number[] }));
  for (const mm of [...piecesMm].sort((a, b) => b - a)) {
    const fits = lengths.find(({ left }) => left >= mm);
    if (!fits) return undefined;
    fits.left -= mm;
    fits.pieces.push(mm);
  }
  return lengths.flatMap(({ at, pieces }) => (pieces.length > 0 ? [[at, pieces]] : []));
}
