import type { Entry } from '../../solver/model.ts';

/** A row's entry for a column that there may be. */
export const entryOf = (column: number | undefined, value: number): Entry[] =>
  column === undefined ? [] : [[column, value]];

/** Entries of one column added up. */
export function merged(list: readonly Entry[]): Entry[] {
  const sums = new Map<number, number>();
  for (const [column, coefficient] of list) sums.set(column, (sums.get(column) ?? 0) + coefficient);
  return [...sums];
}
