import type { SettingValues } from '../../model/settings.ts';
import { braidShare } from '../../trade/braid.ts';
import { D, percentOf, plain } from '../../units/decimal.ts';
import { finishedOf, inBrackets, type Sum } from './finished.ts';
import { mm, type Sleeve } from './fit.ts';
import type { Laid } from './layers.ts';

/**
 * What is cut of a braid: it shortens as it opens, on each branch by what lies beneath it there, its overlaps as the branch
 * at that end; with the trim for the hot cut at both ends. By the setting where the part does not say by how much, or the
 * length is stated; and where a diameter is not known, by the setting at the least.
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
  const shares = under.map(({ steadyMm }) => braidShare(part, steadyMm));
  if (!way || under.length === 0 || shares.some((share) => share === undefined)) return settingSum;
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
  if (unknown && opened.lt(bySetting)) return settingSum;
  const widths = [...new Set(under.map(({ steadyMm }) => mm(steadyMm)))];
  const becomes =
    widths.length === 1
      ? `100 mm become ${plain(new D(shares[0] ?? 1).mul(100).toDecimalPlaces(2))} at ${widths[0]}`
      : `opened to ${widths.join(', ')}`;
  return {
    mm: opened.add(trim),
    terms: `${inBrackets(finished.terms)} cut as ${plain(opened.toDecimalPlaces(2))}, as it shortens: ${becomes};${trimTerm}`,
  };
}
