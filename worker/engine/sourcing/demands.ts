import { maximalPatterns, type Pattern } from '../cutting/patterns.ts';
import type { Requirement } from '../model/result.ts';
import { cutsOf, lengthsOf } from '../loom/totals.ts';
import { unitsToCover } from '../units/decimal.ts';
import type { Choice, Demand } from './problem.ts';
import { capacityFor, eachFor, longestFrom, unitsAtLeast } from './units.ts';
import { waysToCut } from './waysToCut.ts';

/** Up to so many patterns of a requirement's lengths are all tried; more are fitted longest first. */
const MOST_PATTERNS = 2_000;

/**
 * A requirement as a demand on the choices that serve it; undefined where these cannot meet it whatever else is bought,
 * and 'untried' where it was found in none of the ways of cutting that were tried.
 */
export function demandOf(
  requirement: Requirement,
  index: number,
  choices: readonly Choice[],
  serving: readonly number[],
  oneColourOneSupplier: boolean,
): Demand | 'untried' | undefined {
  const at = (choice: number) => choices[choice];
  const own = serving.flatMap((choice) => choices[choice] ?? []);
  const common = { requirement: requirement.id, ways: [], patterns: undefined };
  if (requirement.kind === 'count' || (requirement.kind === 'length' && requirement.joinable)) {
    const need = requirement.kind === 'count' ? requirement.quantity : requirement.totalMm;
    const enough = own.reduce((sum, choice) => sum + capacityFor(choice, index), 0) >= need;
    const demand: Demand = { ...common, need, how: 'sum', pieces: [], oneSupplier: false, choices: serving };
    return enough ? demand : undefined;
  }
  const need = requirement.totalMm;
  const pieces = lengthsOf(cutsOf(requirement));
  const oneSupplier = requirement.kind === 'wire' && oneColourOneSupplier;
  if (!own.some(({ form }) => form === 'length')) {
    const able = serving.filter((choice) => unitsForAll(at(choice), index, need) !== undefined);
    return able.length === 0
      ? undefined
      : { ...common, need, how: 'single', pieces, oneSupplier, choices: able };
  }
  const longest = pieces[0]?.mm ?? 0;
  if (!own.some((choice) => longestFrom(choice, index) >= longest)) return undefined;
  const demand: Demand = { ...common, need, how: 'cut', pieces, oneSupplier, choices: serving };
  const patterns = patternsOf(demand, index, choices);
  const ways = waysToCut(demand, index, choices);
  // No way at hand is no proof that there is none.
  return ways.length === 0 && !patterns ? 'untried' : { ...demand, patterns, ways };
}

function unitsForAll(choice: Choice | undefined, demand: number, need: number): number | undefined {
  return choice && unitsAtLeast(choice, unitsToCover(need, eachFor(choice, demand)));
}

function patternsOf(
  demand: Demand,
  index: number,
  choices: readonly Choice[],
): ReadonlyMap<number, readonly Pattern[]> | undefined {
  const byUsable = new Map<number, readonly Pattern[]>();
  const byChoice = new Map<number, readonly Pattern[]>();
  let left = MOST_PATTERNS;
  for (const at of demand.choices) {
    const choice = choices[at];
    if (choice?.form !== 'length') continue;
    const usable = eachFor(choice, index);
    let patterns = byUsable.get(usable);
    if (!patterns) {
      patterns = maximalPatterns(usable, demand.pieces, left);
      if (!patterns) return undefined;
      left -= patterns.length;
      byUsable.set(usable, patterns);
    }
    byChoice.set(at, patterns);
  }
  return byChoice;
}
