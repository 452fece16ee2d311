import { firstFit, totalMm } from '../cutting/firstFit.ts';
import { maximalPatterns, type Pattern, type Pieces } from '../cutting/patterns.ts';
import type { Requirement } from '../model/result.ts';
import { lengthsOf } from '../loom/totals.ts';
import { unitsToCover } from '../units/decimal.ts';
import type { Choice, CutWay, Demand } from './problem.ts';
import { eachFor, unitsAtLeast } from './units.ts';

/** Up to so many patterns of a requirement's lengths are all tried; more are fitted longest first. */
const MOST_PATTERNS = 2_000;

/** A requirement as a demand on the choices that serve it; undefined where these cannot meet it whatever else is bought. */
export function demandOf(
  requirement: Requirement,
  index: number,
  choices: readonly Choice[],
  serving: readonly number[],
  oneColourOneSupplier: boolean,
): Demand | undefined {
  const at = (choice: number) => choices[choice];
  const common = { requirement: requirement.id, ways: [], patterns: undefined };
  if (requirement.kind === 'count' || (requirement.kind === 'length' && requirement.joinable)) {
    const need = requirement.kind === 'count' ? requirement.quantity : requirement.totalMm;
    const enough = serving.reduce((sum, choice) => sum + capacity(at(choice), index), 0) >= need;
    const demand: Demand = { ...common, need, how: 'sum', pieces: [], oneSupplier: false, choices: serving };
    return enough ? demand : undefined;
  }
  const need = requirement.totalMm;
  const pieces = lengthsOf(requirement.pieces);
  const oneSupplier = requirement.kind === 'wire' && oneColourOneSupplier;
  if (!serving.some((choice) => at(choice)?.form === 'length')) {
    const able = serving.filter((choice) => unitsForAll(at(choice), index, need) !== undefined);
    return able.length === 0
      ? undefined
      : { ...common, need, how: 'single', pieces, oneSupplier, choices: able };
  }
  const longest = pieces[0]?.mm ?? 0;
  const holds = (choice: Choice | undefined) =>
    choice !== undefined &&
    (choice.form === 'metre' ? capacity(choice, index) : eachFor(choice, index)) >= longest;
  if (!serving.some((choice) => holds(at(choice)))) return undefined;
  const demand: Demand = { ...common, need, how: 'cut', pieces, oneSupplier, choices: serving };
  const patterns = patternsOf(demand, index, choices);
  const ways = waysToCut(demand, index, choices);
  return ways.length === 0 && !patterns ? undefined : { ...demand, patterns, ways };
}

function capacity(choice: Choice | undefined, demand: number): number {
  if (!choice) return 0;
  return choice.mostUnits === undefined ? Infinity : choice.mostUnits * eachFor(choice, demand);
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

/**
 * Ways to cut all pieces, each from one supplier: by the metre alone; fixed lengths filled longest first; all but the
 * last of these, and what is left by the metre or from another fixed length.
 */
function waysToCut(demand: Demand, index: number, choices: readonly Choice[]): CutWay[] {
  const suppliers = [...new Set(demand.choices.map((choice) => choices[choice]?.supplier ?? 0))];
  return suppliers.flatMap((supplier) => {
    const own = demand.choices.filter((choice) => choices[choice]?.supplier === supplier);
    const begun = own.flatMap((choice) => starts(choice, index, choices, demand.pieces));
    return begun.flatMap(({ way, rest }) =>
      rest.length === 0
        ? [way]
        : own.flatMap((choice) =>
            starts(choice, index, choices, rest)
              .filter((end) => end.rest.length === 0)
              .flatMap((end) => joined(way, end.way)),
          ),
    );
  });
}

interface Start {
  way: CutWay;
  rest: readonly Pieces[];
}

function starts(at: number, demand: number, choices: readonly Choice[], pieces: readonly Pieces[]): Start[] {
  const choice = choices[at];
  if (!choice) return [];
  if (choice.form === 'metre') {
    const units = unitsForAll(choice, demand, totalMm(pieces));
    if (units === undefined) return [];
    return [
      { way: { units: [{ choice: at, units }], cuts: [{ choice: at, lengths: 1, pieces }] }, rest: [] },
    ];
  }
  const usable = eachFor(choice, demand);
  const all = firstFit(usable, pieces, choice.mostUnits).lengths.length;
  return [all, all - 1].flatMap((most): Start[] => {
    if (most < 1) return [];
    const { lengths, rest } = firstFit(usable, pieces, most);
    const units = unitsAtLeast(choice, lengths.length);
    if (units === undefined) return [];
    const cuts = lengths.map((filled) => ({ choice: at, lengths: 1, pieces: filled.pieces }));
    return [{ way: { units: [{ choice: at, units }], cuts }, rest }];
  });
}

function joined(a: CutWay, b: CutWay): CutWay[] {
  const twice = a.units.some(({ choice }) => b.units.some((other) => other.choice === choice));
  return twice ? [] : [{ units: [...a.units, ...b.units], cuts: [...a.cuts, ...b.cuts] }];
}
