import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { ceilWhole, percentOf } from '../../units/decimal.ts';
import { inPieces, piecesText, type Cuts } from '../lengths/inPieces.ts';

type Settings = Pick<SettingValues, 'spareCoveringPercent' | 'spareCoveringMinimumMm'>;

/** A covering of one cut length, of so many looms with these settings. */
export interface CoveringCut extends Cuts {
  settings: Settings;
}

/**
 * Spare of one sleeve or tape: for each covering a percentage of its cut length, and a least; but no more than the covering
 * itself, which is then there twice. It is one piece, so that a covering can be cut again of it; no longer than the longest
 * of them, so that it comes out of any length out of which they come.
 */
export function spareCovering(coverings: readonly CoveringCut[]): { spares: Cuts[]; step: Step } | undefined {
  const sums = new Map<string, { mm: number; count: number }>();
  for (const { cutMm, count, settings } of coverings) {
    const { spareCoveringPercent: percent, spareCoveringMinimumMm: minimumMm } = settings;
    if (percent === 0) continue;
    const each = Math.min(cutMm, Math.max(ceilWhole(percentOf(cutMm, percent)), minimumMm));
    const words = `${percent} % of each, at least ${minimumMm}`;
    const sum = sums.get(words) ?? { mm: 0, count: 0 };
    sums.set(words, { mm: sum.mm + each * count, count: sum.count + count });
  }
  const spareMm = [...sums.values()].reduce((total, { mm }) => total + mm, 0);
  const longestMm = coverings.reduce((longest, { cutMm }) => Math.max(longest, cutMm), 0);
  const spares = inPieces(spareMm, longestMm);
  if (spares.length === 0) return undefined;
  const terms = [...sums].map(
    ([words, { count }]) => `for ${count} covering${count === 1 ? '' : 's'} ${words}, at most all of it`,
  );
  return {
    spares,
    step: {
      rule: 'spares',
      text: `${terms.join('; ')}: ${spareMm} mm spare ${piecesText(spares)}`,
      value: spareMm,
      unit: 'mm',
    },
  };
}
