import type { SettingValues } from '../../model/settings.ts';
import { braidShare, rangeShare } from '../../trade/braid.ts';
import { D, percentOf, plain } from '../../units/decimal.ts';
import { finishedOf, inBrackets, type Sum } from './finished.ts';
import { mm, type Sleeve } from './fit.ts';
import type { Laid } from './layers.ts';

/**
 * What is cut of a braid: it shortens as it opens, on each branch by what lies beneath it there, its overlaps as the branch
 * at that end; with the trim for the hot cut at both ends. By its table or angle; else by the range that it is stated to
 * hold, but never less than by the setting; by the setting where it states nothing, or the length is stated; and where a
 * diameter is not known, by the setting at the least.
 */
export function braidCut(part: Sleeve, laid: Laid, settings: SettingValues): Sum {
  const { under, covering, way } = laid;
  const finished = finishedOf(laid);
  const trim = 2 * settings.braidTrimMm;
  const bySetting = new D(finished.mm).add(percentOf(finished.mm, settings.braidExtraPercent));
  const trimTerm = ` + trim 2 × ${settings.braidTrimMm}`;
  const settingSum: Sum = {
    mm: bySetting.add(trim),
    terms: `${inBrackets(finished.terms)} + ${settings.braidExtraPercent} % as it shortens${trimTerm}`,
  };
  const { shares, byRange } = sharesOf(part, under);
  if (!way || under.length === 0 || shares === undefined) return settingSum;
  const lengths = under.map(
    ({ content: { branch } }, index) =>
      branch.lengthMm +
      (index === 0 ? covering.overlapStartMm : 0) +
      (index === under.length - 1 ? covering.overlapEndMm : 0),
  );
  const opened = lengths.reduce(
    (sum, lengthMm, index) => sum.add(new D(lengthMm).div(shares[index] ?? 1)),
    new D(0),
  );
  const unknown = under.some(({ innerMm }) => innerMm === undefined);
  if ((unknown || byRange) && opened.lte(bySetting)) return settingSum;
  const widths = [...new Set(under.map(({ steadyMm }) => mm(steadyMm)))];
  const becomes =
    widths.length === 1
      ? `100 mm become ${plain(new D(shares[0] ?? 1).mul(100).toDecimalPlaces(2))} at ${widths[0]}`
      : `opened to ${widths.join(', ')}`;
  const reckoned = byRange ? ', calculated from the widest bundle that it holds' : '';
  return {
    mm: opened.add(trim),
    terms: `${inBrackets(finished.terms)} cut as ${plain(opened.toDecimalPlaces(2))}, as it shortens: ${becomes}${reckoned};${trimTerm}`,
  };
}

/** What its length becomes on each branch: as it states, else as its range lets expect. */
function sharesOf(part: Sleeve, under: Laid['under']): { shares: number[] | undefined; byRange: boolean } {
  const all = (share: typeof braidShare) => {
    const shares = under.flatMap(({ steadyMm }) => share(part, steadyMm) ?? []);
    return shares.length === under.length ? shares : undefined;
  };
  const stated = all(braidShare);
  return stated ? { shares: stated, byRange: false } : { shares: all(rangeShare), byRange: true };
}
