/** Smallest letters that one can read at the bench, points: common practice, no source. */
export const SMALLEST = 4.5;
const LARGEST = 9;
const STEP = 0.25;

/** How the words of a label are set. */
export interface Set {
  size: number;
  lines: readonly string[];
  /** Some line is still too wide at this size, and is shortened in the middle. */
  shortened: boolean;
}

/** A line is so many times as high as its letters. */
export const LABEL_LEADING = 1.12;

/**
 * Rows of words set in an area, points: in as many lines as give the largest letters. Where even the smallest do not fit,
 * the lines are to be shortened. `widthOf`: of words in letters of one point.
 */
export function fitLabel(
  rows: readonly string[],
  area: { width: number; height: number },
  widthOf: (words: string) => number,
): Set {
  const most = Math.max(1, Math.floor(area.height / (SMALLEST * LABEL_LEADING)));
  const ways = rows.map((_, at) => inLines(rows, at + 1)).filter(({ length }) => length <= most);
  const sets = ways.map((lines): Set => {
    const widest = lines.reduce((wide, line) => Math.max(wide, widthOf(line)), 0.001);
    const exact = Math.min(LARGEST, area.width / widest, area.height / (lines.length * LABEL_LEADING));
    const size = Math.floor(exact / STEP) * STEP;
    return { lines, size: Math.max(SMALLEST, size), shortened: size < SMALLEST };
  });
  // Of several that must be shortened, the one with most lines keeps most.
  return sets.reduce((best, set) =>
    best.shortened ? set : !set.shortened && set.size >= best.size ? set : best,
  );
}

/** The rows in so many lines: the last ones share one. */
function inLines(rows: readonly string[], count: number): string[] {
  return [...rows.slice(0, count - 1), rows.slice(count - 1).join(' · ')];
}

/** So many characters of them, half from the start and half from the end, with "…" between. */
export function middleCut(characters: readonly string[], kept: number): string {
  const head = Math.ceil(kept / 2);
  const tail = kept - head;
  return `${characters.slice(0, head).join('')}…${tail === 0 ? '' : characters.slice(-tail).join('')}`;
}
