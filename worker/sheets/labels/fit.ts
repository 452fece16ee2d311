import type { Label } from './label.ts';

/** Smallest letters that one can read at the bench, points: common practice, no source. */
export const SMALLEST = 4.5;
const LARGEST = 9;
/** The same of a label with a name that wraps: it is read from further off. */
const LARGEST_NAME = 14;
const STEP = 0.25;

/** How the words of a label are set. */
export interface Set {
  size: number;
  lines: readonly string[];
  /** So many of them are of the first row, and stand in bold. */
  bold: number;
  /** Some line is still too wide at this size, and is shortened in the middle. */
  shortened: boolean;
}

/** A line is so many times as high as its letters. */
export const LABEL_LEADING = 1.12;

/** A name takes at most so many lines. */
const NAME_LINES = 3;

type Way = Pick<Set, 'lines' | 'bold'>;

/**
 * The words of a label set in an area, points: in as many lines as give the largest letters. Where even the smallest do not
 * fit, the lines are to be shortened. `widthOf`: of words in letters of one point.
 */
export function fitLabel(
  { rows, wraps = false }: Label,
  area: { width: number; height: number },
  widthOf: (words: string) => number,
): Set {
  const most = Math.max(1, Math.floor(area.height / (SMALLEST * LABEL_LEADING)));
  const ways = [...rows.map((_, at): Way => ({ lines: inLines(rows, at + 1), bold: 1 }))];
  if (wraps) ways.push(...wrapping(rows, widthOf));
  const sets = ways
    .filter(({ lines }) => lines.length <= most)
    .sort((a, b) => a.lines.length - b.lines.length)
    .map((way): Set => {
      const { lines } = way;
      const widest = lines.reduce((wide, line) => Math.max(wide, widthOf(line)), 0.001);
      const exact = Math.min(
        wraps ? LARGEST_NAME : LARGEST,
        area.width / widest,
        area.height / (lines.length * LABEL_LEADING),
      );
      const size = Math.floor(exact / STEP) * STEP;
      return { ...way, size: Math.max(SMALLEST, size), shortened: size < SMALLEST };
    });
  // Of several that must be shortened, the one with most lines keeps most. Of equal letters, the name is broken least.
  return sets.reduce((best, set) => {
    if (best.shortened) return set;
    const larger = set.size > best.size || (set.size === best.size && set.bold <= best.bold);
    return !set.shortened && larger ? set : best;
  });
}

/** The rows in so many lines: the last ones share one. */
function inLines(rows: readonly string[], count: number): string[] {
  return [...rows.slice(0, count - 1), rows.slice(count - 1).join(' · ')];
}

/** The ways in which the first row takes two lines or more. */
function wrapping([name = '', ...rest]: readonly string[], widthOf: (words: string) => number): Way[] {
  const words = name.split(' ');
  // Where each word begins, if all stand on one line: a long name is measured once.
  const starts = [0];
  for (const word of words) starts.push((starts.at(-1) ?? 0) + widthOf(`${word} `));
  const ways: Way[] = [];
  for (let count = 2; count <= Math.min(NAME_LINES, words.length); count++) {
    const { ends } = evenly(starts, 0, count);
    const own = ends.map((end, at) => words.slice(ends[at - 1] ?? 0, end).join(' '));
    const below = rest.map((_, at) => inLines(rest, at + 1));
    for (const further of below.length === 0 ? [[]] : below)
      ways.push({ lines: [...own, ...further], bold: own.length });
  }
  return ways;
}

/** Before which words lines end, so that the widest of the lines from word `from` on is as narrow as it can be. */
function evenly(
  starts: readonly number[],
  from: number,
  count: number,
): { ends: readonly number[]; widest: number } {
  const last = starts.length - 1;
  const wide = (end: number) => (starts[end] ?? 0) - (starts[from] ?? 0);
  let best = { ends: [last] as readonly number[], widest: count === 1 ? wide(last) : Infinity };
  for (let end = from + 1; count > 1 && end <= last - count + 1; end++) {
    const further = evenly(starts, end, count - 1);
    const widest = Math.max(wide(end), further.widest);
    if (widest < best.widest) best = { ends: [end, ...further.ends], widest };
  }
  return best;
}

/** So many characters of them, half from the start and half from the end, with "…" between. */
export function middleCut(characters: readonly string[], kept: number): string {
  const head = Math.ceil(kept / 2);
  const tail = kept - head;
  return `${characters.slice(0, head).join('')}…${tail === 0 ? '' : characters.slice(-tail).join('')}`;
}
