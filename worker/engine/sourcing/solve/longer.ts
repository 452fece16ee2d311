import { costOf } from '../problem/pricing.ts';
import type { Choice, Plan, Problem } from '../problem/problem.ts';
import { eachFor, lineCost } from '../problem/units.ts';

/**
 * The same mix with each line of lengths exchanged for the longest that its supplier sells in that order at the same cost:
 * what holds of every answer, also where equally cheap mixes are not compared to the end. Only whole lines are exchanged.
 */
export function withLongerLengths(problem: Problem, plan: Plan): Plan {
  let best = plan;
  problem.choices.forEach((choice, at) => {
    if (!isBoughtLength(choice) || (plan.units[at] ?? 0) === 0) return;
    const longer = problem.choices
      .map((other, place) => ({ other, place, more: moreFrom(problem, at, place) }))
      .filter(({ more }) => more > 0)
      .sort((a, b) => b.more - a.more || a.place - b.place);
    for (const { place } of longer) {
      const found = exchanged(problem, best, at, place);
      if (!found) continue;
      best = found;
      return;
    }
  });
  return best;
}

function isBoughtLength({ form, wave }: Choice): boolean {
  return form === 'length' && wave > 0;
}

/** By how much a length of one choice is longer than of another where it does all that the other does; else 0. mm. */
function moreFrom({ choices, covers }: Problem, from: number, to: number): number {
  const [shorter, longer] = [choices[from], choices[to]];
  if (!shorter || !longer || !isBoughtLength(longer) || shorter.supplier !== longer.supplier) return 0;
  const more = shorter.serves.map(({ requirement, each }) => eachFor(longer, requirement) - each);
  const isFor = shorter.serves.length === longer.serves.length && more.every((mm) => mm > 0);
  const givesAll = covers.every(({ gives }) => {
    const given = (choice: number) => gives.find((give) => give.choice === choice)?.each ?? 0;
    return given(to) >= given(from);
  });
  return isFor && givesAll ? Math.max(0, ...more) : 0;
}

/** All units of a choice as units of another; undefined where these are not sold so, or not at the same cost. */
function exchanged(problem: Problem, plan: Plan, from: number, to: number): Plan | undefined {
  const [shorter, longer] = [problem.choices[from], problem.choices[to]];
  const many = plan.units[from] ?? 0;
  const before = plan.units[to] ?? 0;
  if (!shorter || !longer || many === 0 || !isSold(longer, many + before)) return undefined;
  // Goods as before, so that what hangs on their value stays.
  if (lineCost(longer, many + before) !== lineCost(shorter, many) + lineCost(longer, before))
    return undefined;
  const units = plan.units.map((own, at) => (at === from ? 0 : at === to ? many + before : own));
  const isInStock = problem.sharedStock.every(
    ({ choices, mostUnits }) => choices.reduce((sum, choice) => sum + (units[choice] ?? 0), 0) <= mostUnits,
  );
  // A longer length is heavier, which postage may go by.
  if (!isInStock || costOf(problem, { units }) !== costOf(problem, plan)) return undefined;
  const cuts = plan.cuts.map((own) => own.map((cut) => (cut.choice === from ? { ...cut, choice: to } : cut)));
  return { ...plan, units, cuts };
}

function isSold({ tiers, step, mostUnits = Infinity }: Choice, units: number): boolean {
  const [first] = tiers;
  return first !== undefined && units >= first.fromUnits && units % step === 0 && units <= mostUnits;
}
