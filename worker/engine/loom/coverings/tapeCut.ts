import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import { spiralMm, turnsMm } from '../../trade/tape.ts';
import { D, plain } from '../../units/decimal.ts';
import type { Way } from '../graph/ways.ts';
import type { Sum } from './finished.ts';
import type { Laid } from './layers.ts';

/**
 * What is used of a tape over branches: its spiral on each by what lies beneath it there, and turns in one place at start,
 * end and each breakout that it passes; less as it stretches. What is not known of a diameter is not in it.
 */
export function tapeCut(
  part: Extract<Part, { kind: 'tape' }>,
  { covering, under }: Laid,
  way: Way,
  settings: SettingValues,
  leaving: ReadonlyMap<string, number>,
): Sum {
  const { tapeOverlapPercent, tapeExtraTurns } = settings;
  const spiral = under.reduce((sum, { content: { branch }, steadyMm }, index) => {
    const alongMm =
      branch.lengthMm +
      (index === 0 ? covering.overlapStartMm : 0) +
      (index === under.length - 1 ? covering.overlapEndMm : 0);
    return sum.add(spiralMm(steadyMm, alongMm, part.widthMm, tapeOverlapPercent));
  }, new D(0));
  const ends = [under.at(0), under.at(-1)].map((place) => place?.steadyMm ?? 0);
  const breakouts = passed(way, leaving).map((index) =>
    Math.max(under[index - 1]?.steadyMm ?? 0, under[index]?.steadyMm ?? 0),
  );
  const turns = [...ends, ...breakouts].reduce(
    (sum, diameterMm) => sum.add(turnsMm(diameterMm, tapeExtraTurns)),
    new D(0),
  );
  const stretch = part.stretchPercent ?? 0;
  const total = spiral.add(turns).div(new D(1).add(new D(stretch).div(100)));
  const places = `start, end${breakouts.length === 0 ? '' : ` and ${breakouts.length} breakout${breakouts.length === 1 ? '' : 's'}`}`;
  const terms = `spiral of ${part.widthMm} mm tape, ${tapeOverlapPercent} % over itself, ${short(spiral)} + ${tapeExtraTurns} turns at ${places} ${short(turns)}`;
  return { mm: total, terms: stretch > 0 ? `(${terms}), stretched by ${stretch} %,` : terms };
}

const short = (mm: D) => plain(mm.toDecimalPlaces(1));

/** Where between its branches others leave, by the place of the branch that follows. */
function passed({ branches }: Way, leaving: ReadonlyMap<string, number>): number[] {
  return branches.flatMap((branch, index) => {
    const before = branches[index - 1];
    if (!before) return [];
    const point = [branch.from, branch.to].find((end) => end === before.from || end === before.to);
    return point !== undefined && (leaving.get(point) ?? 0) > 2 ? [index] : [];
  });
}
