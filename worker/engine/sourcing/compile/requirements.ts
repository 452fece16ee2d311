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
  /** Of a supplier in an order: its code. */
  codeOf: (supplier: number) => string;
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
  { id, when, oneSupplier, waves, codeOf }: Asked,
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
  const scopes = oneSupplier ? scopesOf(own, codeOf) : [own];
  const several = needsSeveral(scopes, index, pieces, waves);
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

/** What can be bought together where all must come from one supplier: what each sells, and the shelf. */
function scopesOf(own: readonly Choice[], codeOf: (supplier: number) => string): Choice[][] {
  const isShelf = ({ wave }: Choice) => wave === 0;
  const codes = [
    ...new Set(own.filter((choice) => !isShelf(choice)).map(({ supplier }) => codeOf(supplier))),
  ];
  if (codes.length === 0) return [[...own]];
  return codes.map((code) => own.filter((choice) => isShelf(choice) || codeOf(choice.supplier) === code));
}

/**
 * Whether by some order all fixed lengths that there are and the longest continuous ones, one an order, are too short
 * together, but all continuous ones would be long enough; where one supplier must do, whether that is so of each that can.
 */
function needsSeveral(
  scopes: readonly (readonly Choice[])[],
  index: number,
  pieces: readonly Pieces[],
  waves: number,
): boolean {
  const orders = Array.from({ length: waves }, (_, at) => at + 1);
  const lengths = scopes.map((scope) =>
    orders.map((order) => {
      const mm = pieces.reduce(
        (sum, piece) => ((piece.wave ?? 1) <= order ? sum + piece.mm * piece.count : sum),
        0,
      );
      const [fixed, continuous] = (['length', 'metre'] as const).map((form) =>
        capacities(
          scope.filter((choice) => choice.form === form && choice.wave <= order),
          index,
        ),
      );
      const most = [...continuous!].sort((a, b) => b - a).slice(0, order);
      return { mm, withOne: sumOf(fixed!) + sumOf(most), withAll: sumOf(fixed!) + sumOf(continuous!) };
    }),
  );
  return (
    lengths.every((own) => own.some(({ mm, withOne }) => withOne < mm)) &&
    lengths.some((own) => own.every(({ mm, withAll }) => withAll >= mm))
  );
}

/** All that can be had of each offer, mm: its stock is one over all orders. */
function capacities(choices: readonly Choice[], index: number): number[] {
  return [...new Map(choices.map((choice) => [keyOf(choice), capacityFor(choice, index)])).values()];
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
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
