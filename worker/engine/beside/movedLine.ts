import { changed, formerPlaces, type Change, type FormerPlaces } from '../sourcing/problem/changed.ts';
import { sharesOf, takes } from '../sourcing/problem/pricing.ts';
import { isActive, type Problem } from '../sourcing/problem/problem.ts';
import { sellerOf, setOf, type Quoted } from './mix.ts';

/** A line's requirement to be bought from the other suppliers of the mix, all else as it is: a small problem. */
export interface Moved {
  problem: Problem;
  /** Where its choices and requirements stand in the whole; undefined of what stays as it is. */
  places: FormerPlaces;
  /** Units of the whole problem's choices that stay. */
  kept: readonly number[];
}

/** Why a line cannot move. */
export type Stays = 'nobodyElse' | 'minimumOrder';

/**
 * The problem of one line: what it serves comes from the other suppliers of the mix and the shelf, never from its own. All
 * that stays with a supplier in an order is one choice that must be bought, with the value and weight of it all, so that
 * postage and thresholds follow. Of lengths to be cut, what the same supplier sends for the same requirement moves too: a
 * colour comes from one supplier.
 */
export function movedLine({ problem, plan }: Quoted, line: number): Moved | Stays {
  const { choices, requirements } = problem;
  const unmet = new Set(plan.unmet);
  const isMet = (at: number) => {
    const requirement = requirements[at];
    return requirement !== undefined && !unmet.has(at) && isActive(requirement, plan.options);
  };
  const isPieces = (at: number) => requirements[at]?.how !== 'sum';
  const servedBy = (at: number) =>
    (choices[at]?.serves ?? []).map(({ requirement }) => requirement).filter(isMet);
  const asked = new Set(servedBy(line));
  const seller = sellerOf(problem, line);
  const mix = new Set([...setOf(problem, plan), undefined]);
  const isGone = (at: number) =>
    at === line ||
    (sellerOf(problem, at) === seller &&
      servedBy(at).some((requirement) => asked.has(requirement) && isPieces(requirement)));
  const isFree = (at: number) => {
    const serves = servedBy(at);
    return (
      !isGone(at) &&
      sellerOf(problem, at) !== seller &&
      mix.has(sellerOf(problem, at)) &&
      serves.some((requirement) => asked.has(requirement)) &&
      // A length is for one requirement; where it is in use for another, that stays.
      serves.every((requirement) => asked.has(requirement) || !isPieces(requirement))
    );
  };
  const free = choices.flatMap((_, at) => (isFree(at) ? [at] : []));
  if (free.length === 0) return 'nobodyElse';
  const moving = new Set(free);
  const kept = choices.map((_, at) => (moving.has(at) || isGone(at) ? 0 : (plan.units[at] ?? 0)));
  const shares = sharesOf(problem, { units: kept });
  if (shares.some((share) => problem.suppliers[share.supplier]?.code === seller && !takes(problem, share)))
    return 'minimumOrder';

  const isAsked = (when: number | undefined) => when === undefined || plan.options.includes(when);
  const involved = new Set([
    ...asked,
    ...problem.covers.flatMap(({ members, gives }) =>
      gives.some(({ choice }) => moving.has(choice) || isGone(choice))
        ? members.flatMap(({ requirement, when }) =>
            isMet(requirement) && isAsked(when) ? [requirement] : [],
          )
        : [],
    ),
  ]);
  const change: Change = {
    choices: (_, at) => moving.has(at),
    requirements: (_, at) => involved.has(at),
    options: (option) => plan.options.includes(option),
    bought: kept,
    atMostSuppliers: Infinity,
    insistOn: [],
    drop: true,
  };
  return { problem: changed(problem, change), places: formerPlaces(problem, change), kept };
}
