import type { D } from '../../units/decimal.ts';
import type { Laid } from './layers.ts';

/** What is cut before it is rounded up, and the sum in words as far as "=". */
export interface Sum {
  mm: D;
  terms: string;
}

/** The finished length with its overlaps: "2600 along its branches + overlaps 0 + 20". */
export function finishedOf({ covering, way }: Pick<Laid, 'covering' | 'way'>): { mm: number; terms: string } {
  const { lengthMm = way?.lengthMm ?? 0, overlapStartMm, overlapEndMm } = covering;
  const terms = [
    `${lengthMm} ${covering.lengthMm === undefined ? 'along its branches' : 'stated'}`,
    ...(overlapStartMm + overlapEndMm > 0 ? [`overlaps ${overlapStartMm} + ${overlapEndMm}`] : []),
  ].join(' + ');
  return { mm: lengthMm + overlapStartMm + overlapEndMm, terms };
}

/** A sum of several terms in brackets, one alone as it is. */
export function inBrackets(terms: string): string {
  return terms.includes(' + ') ? `(${terms})` : terms;
}
