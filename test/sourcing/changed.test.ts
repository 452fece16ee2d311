import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { changed, formerPlaces, type Change } from '../../worker/engine/sourcing/problem/changed.ts';
import { isInStock } from '../../worker/engine/sourcing/problem/allowed.ts';
import { costOf, sharesOf, takes } from '../../worker/engine/sourcing/problem/pricing.ts';
import { isActive, type Plan, type Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { problemOf } from '../bench/direct.ts';
import { arbitraryJob } from '../engine/arbitraryJob.ts';
import { unhurried } from '../engine/fixtures.ts';
import { instance } from './whole/instances.ts';

const arbitraryProblem = fc
  .oneof(
    fc.nat(4000).map((seed) => instance(seed)),
    arbitraryJob,
  )
  .map(problemOf)
  .filter(({ requirements }) => requirements.length > 0);

/** Choices, requirements, options and suppliers by place, each kept or not in turn. */
const picks = fc.array(fc.boolean(), { minLength: 8, maxLength: 8 });
const picked = (list: readonly boolean[]) => (at: number) => list[at % list.length] === true;

const solve = (problem: Problem) => solveProblem(problem, unhurried, { ties: false });

/** Whether a plan meets each requirement of the problem that it does not leave unmet. Cuts are for the tests of the cutting. */
function meets(problem: Problem, { units, unmet, options, cuts }: Plan): boolean {
  const isAsked = (requirement: number) =>
    !unmet.includes(requirement) && isActive(problem.requirements[requirement] ?? { when: [] }, options);
  const sums = problem.covers.every(({ members, gives }) => {
    const asked = members.filter(
      ({ requirement, when }) => isAsked(requirement) && (when === undefined || options.includes(when)),
    );
    const need = asked.reduce((sum, member) => sum + member.need, 0);
    return need <= gives.reduce((sum, { choice, each }) => sum + each * (units[choice] ?? 0), 0);
  });
  return (
    sums &&
    problem.requirements.every(({ how, pieces, choices }, at) => {
      if (how === 'sum' || !isAsked(at)) return true;
      if (how === 'single') return choices.some((choice) => (units[choice] ?? 0) > 0);
      const wanted = pieces.reduce((sum, { count }) => sum + count, 0);
      const cut = (cuts[at] ?? []).map(
        ({ lengths, pieces: own }) => lengths * own.reduce((sum, { count }) => sum + count, 0),
      );
      return cut.reduce((sum, count) => sum + count, 0) >= wanted;
    })
  );
}

function isPlanOf(problem: Problem, plan: Plan): boolean {
  return (
    meets(problem, plan) &&
    isInStock(problem, plan) &&
    sharesOf(problem, plan).every((share) => takes(problem, share))
  );
}

/** A plan of a changed problem in the places that its units and unmet requirements have in the whole. */
function inWhole(problem: Problem, change: Change, plan: Plan): Plan {
  const places = formerPlaces(problem, change);
  const units = problem.choices.map((_, at) => plan.units[places.choices.indexOf(at)] ?? 0);
  const cuts = problem.requirements.map((_, at) =>
    (plan.cuts[places.requirements.indexOf(at)] ?? []).map((cut) => ({
      ...cut,
      choice: places.choices[cut.choice] ?? -1,
    })),
  );
  const unmet = problem.requirements.flatMap((_, at) => {
    const place = places.requirements.indexOf(at);
    return place < 0 || plan.unmet.includes(place) ? [at] : [];
  });
  return { ...plan, units, cuts, unmet };
}

describe('a changed problem', () => {
  test('is the same problem where nothing changes, and where what is asked changes nothing', () => {
    fc.assert(
      fc.property(arbitraryProblem, (problem) => {
        expect(changed(problem, {})).toEqual(problem);
        const all: Change = {
          choices: () => true,
          tiers: ({ tiers }) => tiers,
          bands: ({ bands }) => bands,
          options: () => true,
          requirements: () => true,
          bought: problem.choices.map(() => 0),
          atMostSuppliers: problem.atMostSuppliers ?? Infinity,
          insistOn: problem.insistOn,
        };
        expect(changed(problem, all)).toEqual(problem);
      }),
      { numRuns: 25 },
    );
  });

  test('has plans that are plans of the whole one at the same cost, and buys nothing of what is left out', async () => {
    let [met, left] = [0, 0];
    await fc.assert(
      fc.asyncProperty(arbitraryProblem, picks, fc.boolean(), async (problem, kept, drop) => {
        const isKept = picked(kept);
        const change: Change = { choices: (_, at) => isKept(at), drop };
        const { plan, cost } = await solve(changed(problem, change));
        const whole = inWhole(problem, change, plan);
        expect(costOf(problem, whole)).toBe(cost);
        whole.units.forEach((units, at) => {
          if (!isKept(at)) expect(units).toBe(0);
        });
        if (plan.without.length === 0)
          expect(isPlanOf(problem, { ...whole, options: plan.options })).toBe(true);
        if (whole.units.some((units) => units > 0)) met++;
        if (!kept.slice(0, problem.choices.length).every(Boolean)) left++;
      }),
      { numRuns: 25 },
    );
    expect(met).toBeGreaterThan(3);
    expect(left).toBeGreaterThan(3);
  });

  test('costs as much where what cannot be bought is dropped as where it keeps its place', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryProblem, picks, picks, async (problem, kept, asked) => {
        const change: Change = {
          choices: (_, at) => picked(kept)(at),
          requirements: (_, at) => picked(asked)(at),
        };
        const [placed, dropped] = [changed(problem, change), changed(problem, { ...change, drop: true })];
        // With nothing to be bought there is nothing to solve.
        if (dropped.requirements.length === 0) return;
        const [one, other] = [await solve(placed), await solve(dropped)];
        expect(other.plan.unmet.length).toBe(one.plan.unmet.length);
        expect(other.cost).toBe(one.cost);
      }),
      { numRuns: 20 },
    );
  });

  test('is the same by two changes one after another as by both at once', () => {
    fc.assert(
      fc.property(arbitraryProblem, picks, picks, picks, (problem, one, two, suppliers) => {
        const first: Change = {
          choices: (_, at) => picked(one)(at),
          bands: ({ bands }, at) => (picked(suppliers)(at) ? bands : bands.slice(0, 1)),
          insistOn: [],
        };
        const second: Change = {
          choices: (_, at) => picked(two)(at),
          tiers: ({ tiers }) => tiers.map(({ fromUnits, price }) => ({ fromUnits, price: price * 2n })),
          requirements: (_, at) => at % 3 !== 2,
          atMostSuppliers: 2,
        };
        const both: Change = { ...first, ...second, choices: (_, at) => picked(one)(at) && picked(two)(at) };
        const once = changed(problem, both);
        expect(changed(changed(problem, first), second)).toEqual(once);
        expect(changed(changed(problem, second), first)).toEqual(once);
        expect(changed(once, { drop: true })).toEqual(changed(problem, { ...both, drop: true }));
      }),
      { numRuns: 25 },
    );
  });

  test('in which all of a cheapest mix but one line is bought already costs what that mix costs', async () => {
    let moved = 0;
    await fc.assert(
      fc.asyncProperty(arbitraryProblem, fc.nat(20), fc.boolean(), async (problem, nth, drop) => {
        const solved = await solve(changed(problem, { insistOn: [], atMostSuppliers: Infinity }));
        const { plan, cost, bound } = solved;
        const sums = new Set(problem.requirements.flatMap(({ how }, at) => (how === 'sum' ? [at] : [])));
        // All but one line, of what serves sums alone.
        const lines = plan.units.flatMap((units, at) => (units > 0 ? [at] : []));
        const line = lines[nth % Math.max(1, lines.length)];
        const isSum = (at: number) =>
          (problem.choices[at]?.serves ?? []).every(({ requirement }) => sums.has(requirement));
        if (line === undefined || bound !== cost || !lines.every(isSum)) return;
        const stays = (at: number) =>
          !plan.unmet.includes(at) && isActive(problem.requirements[at]!, plan.options);
        const found = await solve(
          changed(problem, {
            bought: plan.units.map((units, at) => (at === line ? 0 : units)),
            options: (option) => plan.options.includes(option),
            requirements: (_, at) => stays(at),
            insistOn: [],
            atMostSuppliers: Infinity,
            drop,
          }),
        );
        expect([found.plan.unmet, found.cost]).toEqual([[], cost]);
        moved++;
      }),
      { numRuns: 30 },
    );
    expect(moved).toBeGreaterThan(2);
  });

  test('buys of the choices of a requirement that is added as much as it asks for, where there is so much', async () => {
    let bought = 0;
    await fc.assert(
      fc.asyncProperty(arbitraryProblem, fc.nat(20), async (problem, nth) => {
        const sold = problem.choices.flatMap(({ serves }, at) =>
          serves.every(({ requirement }) => problem.requirements[requirement]?.how === 'sum') ? [at] : [],
        );
        const at = sold[nth % Math.max(1, sold.length)];
        if (at === undefined) return;
        const requirement: Problem['requirements'][number] = {
          id: 'some of it',
          need: 2,
          how: 'sum',
          pieces: [],
          oneSupplier: false,
          when: undefined,
          choices: [at],
          patterns: undefined,
          ways: [],
        };
        const more = changed(problem, { added: { requirement, each: 1 } });
        const { plan } = await solve(more);
        const isMet = !plan.unmet.includes(problem.requirements.length);
        if (isMet) expect(plan.units[at]).toBeGreaterThanOrEqual(2);
        if (isMet) bought++;
        expect(more.requirements.slice(0, -1)).toEqual(problem.requirements);
      }),
      { numRuns: 30 },
    );
    expect(bought).toBeGreaterThan(2);
  });
});
