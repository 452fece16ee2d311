import type { Result } from '../engine/model/result.ts';

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

/** What a cut text ends in before its "…": white space, and marks that would lead on to what is cut off. */
const LEADING_ON = /[\s,;:(–-]+$/u;

/** A text of at most so many characters, cut off after a word with "…"; within a word only where else half of it went. */
export function clipped(text: string, most: number): string {
  if (text.length <= most) return text;
  const head = text.slice(0, most);
  const words = head.slice(0, Math.max(0, head.search(/\s\S*$/u))).replace(LEADING_ON, '');
  return `${words.length < most / 2 ? head.slice(0, -1).trimEnd() : words}…`;
}

/** So much of what was found stays before a remedy, however long the remedy is; and so long a remedy stays whole. */
const LEAST_FOUND = 110;
const LONGEST_REMEDY = 340;

/** What was found and how to fix it, in about so many characters: where it is too long, what was found is cut off, not the remedy. */
export function withRemedy(found: string, remedy: string, most: number): string {
  const kept = clipped(remedy, LONGEST_REMEDY);
  return `${clipped(found, Math.max(LEAST_FOUND, most - kept.length - 1))} ${kept}`;
}
