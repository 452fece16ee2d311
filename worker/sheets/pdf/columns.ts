import type { Column, Row } from '../block.ts';
import { PT, type Ink, type Sized } from './ink.ts';

/** White beside the words of a cell, points. */
export const PADDING = 3;
/** The side of a box to tick. */
export const BOX_SIDE = 8.5;

/** A column is not made narrower than its longest word, unless that is longer than this. */
const LONGEST_WORD = 75;

interface Need {
  /** Of its widest cell on one line. */
  natural: number;
  /** Of its longest word. */
  least: number;
  wraps: boolean;
}

/** How wide each column is, points, so that all together fill `width`: columns that wrap give way first. */
export function columnWidths(
  ink: Ink,
  columns: readonly Column[],
  rows: Iterable<Row>,
  { width, head, body, total }: { width: number; head: Sized; body: Sized; total?: Row },
): number[] {
  const needs = columns.map((column): Need => {
    const box = column.tick === true ? BOX_SIDE : (column.writeMm ?? 0) * PT;
    const least = Math.max(box, longestWord(ink, column.head, head));
    // A head may stand in two lines over narrow figures.
    return {
      natural: column.wraps === true ? ink.widthOf(column.head, head) : least,
      least,
      wraps: column.wraps === true,
    };
  });
  const measure = (row: Row, font: Sized) =>
    needs.forEach((need, at) => {
      const cell = row[at] ?? '';
      const own = ink.widthOf(cell, font);
      if (own > need.natural) need.natural = own;
      if (own > need.least)
        need.least = Math.max(need.least, Math.min(LONGEST_WORD, longestWord(ink, cell, font)));
    });
  for (const row of rows) measure(row, body);
  if (total) measure(total, head.size >= body.size ? head : { ...head, size: body.size });
  const room = width - columns.length * 2 * PADDING;
  const fixed = needs.reduce((sum, { wraps, natural }) => sum + (wraps ? 0 : natural), 0);
  const wrapping = needs.filter(({ wraps }) => wraps);
  const least = wrapping.reduce((sum, need) => sum + need.least, 0);
  // Where those that do not wrap leave too little, they wrap too.
  const all = fixed + least <= room ? wrapping : needs;
  const given = shared(all, all === needs ? room : room - fixed);
  return needs.map((need, at) => (given.get(need) ?? needs[at]?.natural ?? 0) + 2 * PADDING);
}

/** Width for columns that wrap: each its natural one where there is room, else what the narrow ones leave, in even shares. */
function shared(needs: readonly Need[], room: number): Map<Need, number> {
  const given = new Map<Need, number>();
  let left = room;
  const order = [...needs].sort((a, b) => a.natural - b.natural);
  order.forEach((need, at) => {
    const later = order.slice(at + 1).reduce((sum, other) => sum + other.least, 0);
    const even = left / (order.length - at);
    const own = Math.max(Math.min(need.least, left - later), Math.min(need.natural, even, left - later));
    given.set(need, Math.max(4, own));
    left -= own;
  });
  // What nobody needs goes to the column that wraps most, so that tables are of one width.
  const widest = order.at(-1);
  if (widest && left > 0 && needs.some(({ wraps }) => wraps))
    given.set(widest, (given.get(widest) ?? 0) + left);
  return given;
}

function longestWord(ink: Ink, words: string, font: Sized): number {
  return words.split(' ').reduce((most, word) => Math.max(most, ink.widthOf(word, font)), 0);
}
