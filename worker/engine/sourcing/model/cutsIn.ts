import type { Pieces } from '../../cutting/patterns.ts';
import type { Columns } from './columns.ts';
import type { Cut, Requirement, Problem } from '../problem/problem.ts';

/**
 * What is cut from what, by requirement, in a model's values; nothing yet of what is cut by counts. No more pieces are listed
 * than are needed.
 */
export function cutsIn(problem: Problem, columns: Columns, values: readonly number[]): Cut[][] {
  return problem.requirements.map((requirement, index) => {
    if (requirement.how === 'sum') return [];
    if (requirement.how === 'single') return singleCut(columns, requirement, values);
    return cutsOf(
      requirement,
      columns.patterns[index] ?? new Map(),
      columns.metre[index] ?? new Map(),
      values,
    );
  });
}

/** What is cut from what of a requirement, by the columns of its choices' patterns and of pieces out of continuous lengths. */
export function cutsOf(
  requirement: Requirement,
  patterns: Columns['patterns'][number],
  metres: Columns['metre'][number],
  values: readonly number[],
): Cut[] {
  return trimmed(requirement, [
    ...byPatterns(patterns, requirement, values),
    ...byTheMetre(metres, requirement, values),
  ]);
}

function singleCut(columns: Columns, requirement: Requirement, values: readonly number[]): Cut[] {
  const choice = requirement.choices.find((at) =>
    columns.items[at]?.some(({ column }) => (values[column] ?? 0) > 0),
  );
  return choice === undefined ? [] : [{ choice, lengths: 1, pieces: requirement.pieces }];
}

function byPatterns(
  columns: Columns['patterns'][number],
  requirement: Requirement,
  values: readonly number[],
): Cut[] {
  return [...(requirement.patterns ?? [])].flatMap(([choice, patterns]) =>
    patterns.flatMap((pattern, at): Cut[] => {
      const lengths = values[columns.get(choice)?.[at] ?? -1] ?? 0;
      return lengths === 0 ? [] : [{ choice, lengths, pieces: piecesOf(requirement, pattern) }];
    }),
  );
}

function byTheMetre(
  columns: Columns['metre'][number],
  requirement: Requirement,
  values: readonly number[],
): Cut[] {
  return [...columns].flatMap(([choice, cut]): Cut[] => {
    const pieces = piecesOf(
      requirement,
      cut.map((column) => (column === undefined ? 0 : (values[column] ?? 0))),
    );
    return pieces.length === 0 ? [] : [{ choice, lengths: 1, pieces }];
  });
}

function piecesOf(requirement: Requirement, counts: readonly number[]): Pieces[] {
  return requirement.pieces.flatMap((piece, at): Pieces[] => {
    const count = counts[at] ?? 0;
    return count === 0 ? [] : [{ ...piece, count }];
  });
}

/** Patterns may give more of a length than is needed: the last ones are cut without. */
function trimmed(requirement: Requirement, cuts: readonly Cut[]): Cut[] {
  const left = new Map(requirement.pieces.map((piece) => [keyOf(piece), piece.count]));
  return cuts.flatMap((cut) => {
    const single = Array.from({ length: cut.lengths }, (): Cut => {
      const pieces = cut.pieces.flatMap((piece): Pieces[] => {
        const rest = left.get(keyOf(piece)) ?? 0;
        const take = Math.min(piece.count, rest);
        left.set(keyOf(piece), rest - take);
        return take === 0 ? [] : [{ ...piece, count: take }];
      });
      return { choice: cut.choice, lengths: 1, pieces };
    });
    return alike(single.filter(({ pieces }) => pieces.length > 0));
  });
}

const keyOf = ({ mm, wave = 0 }: Pieces) => `${mm} ${wave}`;

/** Lengths that are cut alike, one after the other, as one entry. */
function alike(cuts: readonly Cut[]): Cut[] {
  const list: Cut[] = [];
  for (const cut of cuts) {
    const last = list.at(-1);
    if (last && JSON.stringify(last.pieces) === JSON.stringify(cut.pieces))
      list[list.length - 1] = { ...last, lengths: last.lengths + cut.lengths };
    else list.push(cut);
  }
  return list;
}
