import type { FromStock, Result } from '../engine/model/result.ts';

/** A supplier's name by its code. An older result names only those from which the quote orders; of others the code. */
export function supplierNames({
  supplierNames: known = {},
  orderLists,
}: Pick<Result, 'supplierNames' | 'orderLists'>): (code: string) => string {
  const names = new Map([
    ...Object.entries(known),
    ...orderLists.map(({ supplier, name }) => [supplier, name] as const),
  ]);
  return (code) => names.get(code) ?? code;
}

/** "box-3", or "box-3, Ada’s, shed, second drawer": an item on the shelf, whose it is if not the club’s, and where it lies. */
export function shelfItem(code: string, { owner, place }: Pick<FromStock, 'owner' | 'place'> = {}): string {
  return [code, ...(owner === undefined ? [] : [`${owner}’s`]), ...(place === undefined ? [] : [place])].join(
    ', ',
  );
}

/** What a cut text ends in before its "…": white space, and marks that would lead on to what is cut off. */
const LEADING_ON = /[\s,;:(–-]+$/u;

/** A text of at most so many characters, cut off after a word with "…"; within a word only where else half of it went. */
export function clipped(text: string, most: number): string {
  if (text.length <= most) return text;
  const head = text.slice(0, most);
  const words = head.slice(0, Math.max(0, head.search(/\s\S*$/u))).replace(LEADING_ON, '');
  return `${words.length < most / 2 ? head.slice(0, -1).trimEnd() : words}…`;
}

/** What was found keeps so much before a remedy of usual length, and before the longest that stays whole. */
const FOUND = 110;
const LEAST_FOUND = 60;
const LONGEST_REMEDY = 320;

/**
 * What was found and how to fix it, in so many characters where the remedy lets it: what was found is cut off, not the
 * remedy. At most 381.
 */
export function withRemedy(found: string, remedy: string, most: number): string {
  const kept = clipped(remedy, LONGEST_REMEDY);
  const room = Math.min(FOUND, LEAST_FOUND + LONGEST_REMEDY - kept.length);
  return `${clipped(found, Math.max(room, most - kept.length - 1))} ${kept}`;
}
