import type { Gap, Row } from './row.ts';
import { isAnswer, median, ratiosOf, worst } from './summary.ts';
import type { VanRow } from './vanRow.ts';

/** What was reached, in words, and whether that is enough. */
export interface Judged {
  figure: string;
  isReached: boolean;
}

/** Of the rows of one family and variant, in seconds of processor; undefined where what it needs was not run. */
export type Judge = (rows: readonly Row[]) => Judged | undefined;

const engineOf = (rows: readonly Row[]) => rows.filter(({ by }) => by === 'engine');

export const medianAtMost =
  (seconds: number): Judge =>
  (rows) => {
    const found = median(engineOf(rows).map((row) => row.cpuSeconds));
    return { figure: `${found.toFixed(2)} s`, isReached: found <= seconds };
  };

export const allProvenIn =
  (seconds: number): Judge =>
  (rows) =>
    allIn(
      engineOf(rows).map((row) => (row.proven ? row.cpuSeconds : null)),
      seconds,
    );

export const gapIn =
  (gap: Gap, seconds: number): Judge =>
  (rows) =>
    allIn(
      engineOf(rows).map((row) => (isAnswer(row) ? row.gapSeconds[gap] : null)),
      seconds,
    );

export const timesFasterThanDirect =
  (times: number): Judge =>
  (rows) => {
    const ratios = ratiosOf(rows);
    if (ratios.length === 0) return undefined;
    return { figure: `${median(ratios).toFixed(1)} times`, isReached: median(ratios) >= times };
  };

/** The most of all rows that have an answer. */
export function memoryUnder(megabytes: number, rows: readonly { peakRssMb: number }[]): Judged | undefined {
  if (rows.length === 0) return undefined;
  const most = worst(rows.map((row) => row.peakRssMb));
  return { figure: `${most} MB`, isReached: most < megabytes };
}

/** One quote, proven in so many seconds of processor. */
export function quoteProvenIn(seconds: number, row: VanRow): Judged {
  return allIn([row.proven ? row.cpuSeconds : null], seconds);
}

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
