import type { Gap, Row } from './row.ts';
import { isAnswer, median, ratiosOf, worst } from './summary.ts';

/** What was reached, in words, and whether that is enough. */
export interface Judged {
  figure: string;
  isReached: boolean;
}

/** Of the rows of one family and variant; undefined where what it needs was not run. */
export type Judge = (rows: readonly Row[]) => Judged | undefined;

const engineOf = (rows: readonly Row[]) => rows.filter(({ by }) => by === 'engine');

export const medianAtMost =
  (seconds: number): Judge =>
  (rows) => {
    const found = median(engineOf(rows).map((row) => row.seconds));
    return { figure: `${found.toFixed(2)} s`, isReached: found <= seconds };
  };

export const allProvenIn =
  (seconds: number): Judge =>
  (rows) =>
    allIn(
      engineOf(rows).map((row) => (row.proven ? row.seconds : null)),
      seconds,
    );

export const gapIn =
  (gap: Gap, seconds: number): Judge =>
  (rows) =>
    allIn(
      engineOf(rows).map((row) => (isAnswer(row) ? row.gapSeconds[gap] : null)),
      seconds,
    );

/** Within 1 % of the last answer, where this is known to be within 1 % of the least cost; else nobody knows how good it is. */
export const goodAnswerIn =
  (seconds: number): Judge =>
  (rows) =>
    allIn(
      engineOf(rows).map((row) =>
        isAnswer(row) && row.gapPercent <= 1 ? row.withinOnePercentSeconds : null,
      ),
      seconds,
    );

export const timesFasterThanDirect =
  (times: number): Judge =>
  (rows) => {
    const ratios = ratiosOf(rows);
    if (ratios.length === 0) return undefined;
    return { figure: `${median(ratios).toFixed(1)} times`, isReached: median(ratios) >= times };
  };

export const memoryUnder =
  (megabytes: number): Judge =>
  (rows) => {
    const answers = rows.filter(isAnswer);
    if (answers.length === 0) return undefined;
    const most = worst(answers.map((row) => row.peakRssMb));
    return { figure: `${most} MB`, isReached: most < megabytes };
  };

/** All of these times, none of which is missing. */
function allIn(times: readonly (number | null)[], seconds: number): Judged {
  const known = times.filter((time) => time !== null);
  const inTime = known.filter((time) => time <= seconds).length;
  return {
    figure: [
      `${inTime} of ${times.length}`,
      ...(known.length > 0 ? [`slowest ${worst(known).toFixed(2)} s`] : []),
      ...(known.length < times.length ? [`${times.length - known.length} never`] : []),
    ].join(', '),
    isReached: inTime === times.length,
  };
}
