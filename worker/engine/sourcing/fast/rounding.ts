import { exactToSolver } from '../../units/money.ts';
import { isAllowed } from '../problem/allowed.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';
import { parcelOf, type Assignment } from './assignment.ts';
import type { PlanStore } from './planStore.ts';

/** The plan that an assignment stands for, orders made up with what is sold; undefined where that cannot be ordered. */
export function planOf(problem: Problem, store: PlanStore, assignment: Assignment): Plan | undefined {
  const { network } = store;
  const units = problem.choices.map(() => 0);
  for (const chosen of assignment.plan)
    for (const [link, step] of store.parts(chosen))
      for (const line of network.steps[link]?.[step]?.lines ?? []) units[line.choice] = line.units;
  network.sellers.forEach((seller, s) => {
    if (assignment.serves[s] === 0) return;
    const goods = assignment.goods[s]!;
    const made = seller.bands.find(
      ({ lower, charge, rate }) => goods < lower && charge + rate * lower <= parcelOf(seller, goods),
    );
    if (made) fillUp(problem, units, s, made.lower - goods);
  });
  const plan: Plan = {
    units,
    cuts: problem.demands.map((demand, index) =>
      demand.how === 'single'
        ? demand.choices.flatMap((choice) =>
            units[choice]! > 0 && problem.choices[choice]?.serves.some((served) => served.demand === index)
              ? [{ choice, lengths: 1, pieces: demand.pieces }]
              : [],
          )
        : [],
    ),
    unmet: [],
    without: [],
    options: [],
  };
  return isAllowed(problem, plan) && isEnough(problem, plan) ? plan : undefined;
}

function isEnough({ covers }: Problem, { units }: Plan): boolean {
  return covers.every(
    ({ members, gives }) =>
      gives.reduce((sum, { choice, each }) => sum + each * units[choice]!, 0) >=
      members.reduce((sum, { need }) => sum + need, 0),
  );
}

const NOISE = 1e-6;
const MOST_LINES = 30;
const LEVELS = 12;

/** Buys more from a seller until its goods have grown by so much: in the end by the one line that does it for least. */
function fillUp(problem: Problem, units: number[], s: number, missing: number): void {
  for (let round = 0; round < MOST_LINES && missing > NOISE; round++) {
    const ways = waysOn(problem, units, s);
    const enough = ways.filter(({ more }) => more >= missing - NOISE);
    const [best] = (enough.length > 0 ? enough : ways).sort((a, b) =>
      enough.length > 0 ? a.more - b.more : b.more - a.more,
    );
    if (!best) return;
    units[best.choice] = best.units;
    missing -= best.more;
  }
}

function waysOn({ choices, demands }: Problem, units: readonly number[], s: number) {
  return choices.flatMap((choice, index) => {
    if (choice.supplier !== s || choice.tiers.length === 0) return [];
    const now = units[index]!;
    // A continuous length is bought once.
    const single = choice.serves.some(({ demand }) => demands[demand]?.how === 'single');
    if (single && now === 0) return [];
    const first = choice.tiers[0]?.fromUnits ?? 1;
    const found: { choice: number; units: number; more: number }[] = [];
    let next = now === 0 ? first : now + choice.step;
    for (let level = 0; level < LEVELS; level++, next += choice.step) {
      if (choice.mostUnits !== undefined && next > choice.mostUnits) break;
      const more = exactToSolver(lineCost(choice, next) - lineCost(choice, now));
      if (more > 0) found.push({ choice: index, units: next, more });
    }
    return found;
  });
}
