import type { Control } from '../model/control.ts';
import type { Cutting } from './cutting.ts';
import type { Fill } from './fillings.ts';

/** A search for a packing: what is cut of what, and the fillings that were found worth looking at so far. */
export interface Search {
  cutting: Cutting;
  control: Control;
  pool: Fill[];
}

/** What is still to be packed: lengths of each stock, pieces in the cutting's order. */
export interface Rest {
  lengths: readonly number[];
  counts: readonly number[];
}

/** So many lengths filled alike. */
export interface Packed {
  fill: Fill;
  times: number;
}

/** An answer about a rest: how it is packed, that it cannot be, or that the time or a limit ended the search. */
export type Found = Packed[] | 'impossible' | 'unknown';

export function isEmpty({ counts }: Rest): boolean {
  return counts.every((count) => count <= 0);
}

/** As much of a filling as is still needed. */
export function needed(fill: Fill, { counts }: Rest): Fill {
  return { stock: fill.stock, counts: fill.counts.map((count, at) => Math.min(count, counts[at] ?? 0)) };
}

/** How often a filling is still needed whole. */
export function timesNeeded({ stock, counts }: Fill, rest: Rest): number {
  return counts.reduce(
    (times, count, at) => (count > 0 ? Math.min(times, Math.floor((rest.counts[at] ?? 0) / count)) : times),
    rest.lengths[stock] ?? 0,
  );
}

/** What is left after so many lengths are filled so. */
export function without(rest: Rest, { fill, times }: Packed): Rest {
  return {
    lengths: rest.lengths.map((lengths, stock) => (stock === fill.stock ? lengths - times : lengths)),
    counts: rest.counts.map((count, at) => Math.max(0, count - times * (fill.counts[at] ?? 0))),
  };
}

/** Fillings that hold all pieces and perhaps more of them than are needed, without what is too many. */
export function exactly(packed: readonly Packed[], start: Rest): Packed[] {
  const result: Packed[] = [];
  let rest = start;
  for (const { fill, times } of packed) {
    for (let left = times; left > 0;) {
      const whole = needed(fill, rest);
      if (whole.counts.every((count) => count === 0)) break;
      const many = Math.max(1, Math.min(left, timesNeeded(whole, rest)));
      result.push({ fill: whole, times: many });
      rest = without(rest, { fill: whole, times: many });
      left -= many;
    }
  }
  return result;
}
