import { maximalPatterns, type Pattern, type Pieces } from '../../cutting/patterns.ts';
import { unitsToCover } from '../../units/decimal.ts';
import type { Choice, Requirement } from '../problem/problem.ts';
import { capacityFor, eachFor, longestFrom, unitsAtLeast } from '../problem/units.ts';
import { waysToCut } from './waysToCut.ts';

/** Up to so many patterns of a requirement's lengths all stand in the model; more are cut by counts of lengths. */
const MOST_PATTERNS = 200;

/** What a requirement is made from. */
export interface Asked {
  id: string;
  when: readonly number[] | undefined;
  oneSupplier: boolean;
  waves: number;
}

/** A sum of pieces or mm; undefined where the choices that serve it have not so much, whatever else is bought. */
export function sumRequirement(
  { id, when }: Asked,
  need: number,
  index: number,
  choices: readonly Choice[],
  serving: readonly number[],
): Requirement | undefined {
  const most = new Map<string, number>();
  for (const at of serving) {
    const choice = choices[at];
    if (choice) most.set(keyOf(choice), capacityFor(choice, index));
  }
  const enough = [...most.values()].reduce((sum, capacity) => sum + capacity, 0) >= need;
  if (!enough && when === undefined) return undefined;
  return {
    id,
    need,
    how: 'sum',
    pieces: [],
    oneSupplier: false,
    when,
    choices: serving,
    patterns: undefined,
    ways: [],
  };
}

/** An offer's stock is one over all orders; the shelf's items have names of their own. */
function keyOf({ offer, supplier, wave }: Choice): string {
  return wave === 0 ? `${supplier} ${offer}` : offer;
}

/** Pieces that come whole out of lengths; undefined where the choices cannot meet it whatever else is bought. */
export function piecesRequirement(
  { id, when, oneSupplier, waves }: Asked,
  pieces: readonly Pieces[],
  index: number,
  choices: readonly Choice[],
  serving: readonly number[],
): Requirement | undefined {
  const own = serving.flatMap((choice) => choices[choice] ?? []);
  const need = pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
  const common = {
    ...{ pieces, oneSupplier, when, ways: [], patterns: undefined },
    ...({ id, need } satisfies Partial<Requirement>),
  };
  const several = waves === 1 && needsSeveral(own, index, need, oneSupplier);
  if (waves === 1 && !own.some(({ form }) => form === 'length')) {
    const able = serving.filter((choice) => unitsForAll(choices[choice], index, need) !== undefined);
    if (able.length > 0) return { ...common, how: 'single', choices: able };
    if (!several && when === undefined) return undefined;
    if (!several) return { ...common, how: 'single', choices: able };
  }
  const fits = pieces.every(({ mm, wave = 1 }) =>
    own.some((choice) => choice.wave <= wave && longestFrom(choice, index) >= mm),
  );
  if (!fits && when === undefined) return undefined;
  const requirement: Requirement = {
    ...common,
    how: 'cut',
    choices: serving,
    ...(several ? { several } : {}),
  };
  return {
    ...requirement,
    patterns: patternsOf(requirement, index, choices),
    ways: waysToCut(requirement, index, choices),
  };
}

/**
 * Whether all fixed lengths that there are and the longest continuous one are too short together, but all continuous ones
 * would be long enough; where one supplier must do, whether that is so of each that can.
 */
function needsSeveral(own: readonly Choice[], index: number, need: number, oneSupplier: boolean): boolean {
  const shelf = own.filter(({ wave }) => wave === 0);
  const suppliers = new Set(own.map(({ supplier }) => supplier));
  const scopes = oneSupplier
    ? [...suppliers].map((at) => [...new Set([...shelf, ...own.filter(({ supplier }) => supplier === at)])])
    : [own];
  const sum = (lengths: readonly number[]) => lengths.reduce((all, mm) => all + mm, 0);
  const mm = scopes.map((scope) => {
    const of = (form: Choice['form']) =>
      scope.filter((choice) => choice.form === form).map((choice) => capacityFor(choice, index));
    const [fixed, continuous] = [sum(of('length')), of('metre')];
    return { withOne: fixed + Math.max(0, ...continuous), withAll: fixed + sum(continuous) };
  });
  return mm.every(({ withOne }) => withOne < need) && mm.some(({ withAll }) => withAll >= need);
}

function unitsForAll(choice: Choice | undefined, requirement: number, need: number): number | undefined {
  return choice && unitsAtLeast(choice, unitsToCover(need, eachFor(choice, requirement)));
}

function patternsOf(
  requirement: Requirement,
  index: number,
  choices: readonly Choice[],
): ReadonlyMap<number, readonly Pattern[]> | undefined {
  const known = new Map<string, readonly Pattern[]>();
  const byChoice = new Map<number, readonly Pattern[]>();
  let left = MOST_PATTERNS;
  for (const at of requirement.choices) {
    const choice = choices[at];
    if (choice?.form !== 'length') continue;
    const usable = eachFor(choice, index);
    const key = `${usable} ${choice.wave}`;
    let patterns = known.get(key);
    if (!patterns) {
      patterns = patternsWithin(usable, choice.wave, requirement.pieces, left);
      if (!patterns) return undefined;
      left -= patterns.length;
      known.set(key, patterns);
    }
    byChoice.set(at, patterns);
  }
  return byChoice;
}

/** Patterns of the pieces that may come out of what an order brings: its own, and those of later ones. */
function patternsWithin(
  usable: number,
  wave: number,
  pieces: readonly Pieces[],
  most: number,
): Pattern[] | undefined {
  const able = pieces.flatMap((piece, at) => ((piece.wave ?? 1) >= wave ? [at] : []));
  if (able.length === pieces.length) return maximalPatterns(usable, pieces, most);
  const own = able.flatMap((at) => pieces[at] ?? []);
  const patterns = maximalPatterns(usable, own, most);
  return patterns?.map((pattern) => {
    const whole = pieces.map(() => 0);
    able.forEach((at, place) => (whole[at] = pattern[place] ?? 0));
    return whole;
  });
}
