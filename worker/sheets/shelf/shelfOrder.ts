import { byCode } from '../../engine/model/code.ts';
import { addTo } from '../../engine/model/group.ts';
import type { Part } from '../../engine/model/part.ts';
import type { StockItem } from '../../engine/model/stock.ts';

/** A stock item with its part. */
export interface Stocked {
  item: StockItem;
  part: Part;
}

/** Drawer 2 stands before drawer 10. */
const { compare } = new Intl.Collator('en', { numeric: true });

const byWords = (a: string, b: string) => compare(a, b) || byCode(a, b);

/** By place, what has none last; within it by part, of a part the longest first. */
export function byPlace(all: readonly Stocked[]): Stocked[] {
  return [...all].sort((a, b) => comparePlaces(a.item.place, b.item.place) || comparePart(a, b));
}

/** By part, of a part the longest first. */
export function byPart(all: readonly Stocked[]): Stocked[] {
  return [...all].sort(comparePart);
}

function comparePlaces(a: string | undefined, b: string | undefined): number {
  if (a === b) return 0;
  if (a === undefined) return 1;
  return b === undefined ? -1 : byWords(a, b);
}

function comparePart(a: Stocked, b: Stocked): number {
  return (
    byWords(a.part.description, b.part.description) ||
    byCode(a.part.code, b.part.code) ||
    mmOf(b.item) - mmOf(a.item) ||
    byWords(a.item.code, b.item.code)
  );
}

const mmOf = (item: StockItem) => (item.form === 'length' ? item.lengthMm : 0);

/** Those with the same key together, in the order in which each key comes first. */
export function groupedBy<T>(all: readonly T[], keyOf: (one: T) => string): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const one of all) addTo(found, keyOf(one), one);
  return found;
}
