import type { Block, Section } from '../block.ts';
import { printable } from '../textTable.ts';
import type { Flow, Unit } from './flow.ts';
import type { Sized } from './ink.ts';
import { pictureUnit } from './picturePdf.ts';
import { putGroups, putTable } from './tablePdf.ts';
import { wrapped } from './wrap.ts';

const PROSE: Sized = { face: 'regular', size: 9 };
const TITLE: Sized = { face: 'bold', size: 15 };
const SECTION: Sized = { face: 'bold', size: 12 };
const HEADING: Sized = { face: 'bold', size: 10 };
const LEADING = 11.6;
const SET_IN = 10;

/** Sections under titles; those without blocks are left out. */
export function putSections(flow: Flow, sections: readonly Section[]): void {
  for (const { title, blocks, newPage = false } of sections) {
    // Labels have pages of their own: see sheetsPdf.
    if (blocks.every(({ form }) => form === 'labels')) continue;
    if (newPage) flow.newPage();
    else flow.gap(10);
    if (title !== '') putHeading(flow, title, SECTION);
    for (const block of blocks) putBlock(flow, block);
  }
}

/** The title of a sheet. */
export function putTitle(flow: Flow, words: string): void {
  putHeading(flow, words, TITLE);
}

function putBlock(flow: Flow, block: Block): void {
  switch (block.form) {
    case 'text':
      putParagraph(flow, block.text);
      return flow.gap(5);
    case 'head':
      flow.gap(4);
      return putHeading(flow, block.text, HEADING);
    case 'list':
      for (const item of block.items) putParagraph(flow, item, '•');
      return flow.gap(5);
    case 'table':
      putTable(flow, block.columns, block.rows.map(cleaned), block.totalled === true);
      return flow.gap(8);
    case 'groups':
      putGroups(
        flow,
        block.columns,
        block.groups.map(({ head, rows }) => ({ head: printable(head), rows: rows.map(cleaned) })),
      );
      return flow.gap(8);
    case 'sums':
      putSums(flow, block.rows);
      return flow.gap(8);
    case 'picture':
      flow.put([pictureUnit(flow, block.picture)]);
      return flow.gap(6);
    case 'labels':
      return;
  }
}

const cleaned = (row: readonly string[]) => row.map(printable);

function putHeading(flow: Flow, words: string, font: Sized): void {
  const leading = font.size * 1.2;
  wrapped(flow.ink, printable(words), flow.width, font).forEach((line) => {
    flow.hold({
      height: leading,
      draw: (top) => flow.ink.words(line, flow.left, top + font.size * 0.95, font),
    });
  });
  flow.gap(2.5);
}

/** A paragraph is kept whole where it is short; of a longer one, no single line stands alone on a page. */
function putParagraph(flow: Flow, words: string, mark = ''): void {
  const { ink, left, width } = flow;
  const indent = mark === '' ? 0 : SET_IN;
  const lines = wrapped(ink, printable(words), width - indent, PROSE).map((line, at): Unit => ({
    height: LEADING,
    draw: (top) => {
      if (at === 0 && mark !== '') ink.words(mark, left + 1, top + 8.9, PROSE);
      ink.words(line, left + indent, top + 8.9, PROSE);
    },
  }));
  if (lines.length <= 8) return flow.put(lines);
  flow.put(lines.slice(0, 3));
  for (const line of lines.slice(3, -3)) flow.put([line]);
  flow.put(lines.slice(-3));
}

/** Names with amounts at the right edge, kept together; the last is the total. */
function putSums(flow: Flow, rows: readonly (readonly [string, string])[]): void {
  const { ink, left, width } = flow;
  const right = left + width - 3;
  const widest = rows.reduce((most, [, amount]) => Math.max(most, ink.widthOf(amount, HEADING)), 0);
  flow.put(
    rows.map(([label, amount], at): Unit => {
      const font: Sized = { face: at === rows.length - 1 ? 'bold' : 'regular', size: 9 };
      const words = printable(label);
      return {
        height: LEADING,
        draw: (top) => {
          const from = right - widest - 14 - ink.widthOf(words, font);
          if (at === rows.length - 1)
            ink.line(
              [
                [Math.max(left, from), top],
                [right, top],
              ],
              0.8,
            );
          ink.words(words, Math.max(left, from), top + 8.9, font);
          ink.words(amount, right - ink.widthOf(amount, font), top + 8.9, font);
        },
      };
    }),
  );
}
