import type { Offer } from '../model/offer.ts';
import { choiceOf } from '../sourcing/offered/choices.ts';
import { changed } from '../sourcing/problem/changed.ts';
import type { Requirement, Problem } from '../sourcing/problem/problem.ts';
import { choicesOf, isOf } from './bought.ts';

/** The same problem where the offer cannot be bought. */
export function withoutOffer(problem: Problem, offer: string): Problem {
  return changed(problem, { choices: (choice) => !isOf(choice, offer, problem.suppliers) });
}

/** The same problem with the offer at other prices. */
export function withPrices(problem: Problem, offer: Offer): Problem {
  return changed(problem, {
    tiers: (choice) =>
      (isOf(choice, offer.code, problem.suppliers)
        ? choiceOf(offer, choice.supplier, choice.wave, new Map())?.tiers
        : undefined) ?? choice.tiers,
  });
}

/**
 * Problems in which some of the offer must be bought: no mix that buys any is better than the best of theirs.
 * Where it is one continuous length for a requirement, nothing else may serve that; else one more requirement, the last, asks
 * for a unit of it and is met by nothing else.
 */
export function mustBuy(problem: Problem, offer: string): Problem[] {
  const own = choicesOf(problem, offer);
  const served = [
    ...new Set(own.flatMap((at) => problem.choices[at]?.serves ?? []).map(({ requirement }) => requirement)),
  ];
  const how = (requirement: number) => problem.requirements[requirement]?.how;
  const isCut = served.some((requirement) => how(requirement) === 'cut');
  // A continuous length stands beside no other: one that is bought serves each such requirement that is asked for.
  const singles = isCut ? [] : served.filter((requirement) => how(requirement) === 'single');
  if (singles.length === 0) return askedFor(problem, served).map((given) => withToken(given, own, isCut));
  return singles.flatMap((single) => {
    const others = new Set(
      problem.requirements[single]?.choices.flatMap((at) => (own.includes(at) ? [] : problem.choices[at])),
    );
    const alone = changed(problem, { choices: (choice) => !others.has(choice) });
    return askedFor(alone, [single]);
  });
}

/**
 * Where the requirements are asked for only while one of some families is chosen: the problem with one of these chosen, for
 * each group of families that has any.
 */
function askedFor(problem: Problem, requirements: readonly number[]): Problem[] {
  const whens = requirements.map((requirement) => problem.requirements[requirement]?.when);
  if (whens.includes(undefined)) return [problem];
  const useful = new Set(whens.flatMap((when) => when ?? []));
  return problem.groups.flatMap((group) => {
    const kept = group.filter((option) => useful.has(option));
    if (kept.length === 0) return [];
    return [changed(problem, { options: (option) => !group.includes(option) || useful.has(option) })];
  });
}

/**
 * One more requirement, that a unit of these choices be bought: as of a kit that holds one more part, which is needed; of
 * lengths that are cut, as of one more piece, which comes out of each of them.
 */
function withToken(problem: Problem, own: readonly number[], isCut: boolean): Problem {
  const lastWave = problem.suppliers.reduce((last, { wave }) => Math.max(last, wave), 1);
  const common = {
    id: 'offer',
    need: 1,
    oneSupplier: false,
    when: undefined,
    choices: own,
    ways: [],
  } satisfies Partial<Requirement>;
  const requirement: Requirement = isCut
    ? {
        ...common,
        how: 'cut',
        pieces: [{ mm: 1, count: 1, wave: lastWave }],
        patterns: new Map(
          own.flatMap((at) => (problem.choices[at]?.form === 'metre' ? [] : [[at, [[1]]] as const])),
        ),
      }
    : { ...common, how: 'sum', pieces: [], patterns: undefined };
  return changed(problem, { added: { requirement, each: 1 } });
}
