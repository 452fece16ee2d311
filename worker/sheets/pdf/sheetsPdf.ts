import { PAPER_MM, type Paper } from '../paper.ts';
import type { Sheet } from '../sheet.ts';
import { printable } from '../textTable.ts';
import { putSections, putTitle } from './blocksPdf.ts';
import { flowOf } from './flow.ts';
import { inkOf, PT, type Fonts, type Ink, type Sized } from './ink.ts';
import { putLabels } from './labelsPdf.ts';
import { inOneLine, wrapped } from './wrap.ts';

const SIDE = 14 * PT;
const TOP = 12 * PT;
const BOTTOM = 20 * PT;
const SMALL: Sized = { face: 'regular', size: 8 };
const STRONG: Sized = { face: 'bold', size: 8 };
const FOOT_LINES = 2;

interface Print {
  /** The title of the whole. */
  title: string;
  sheets: readonly Pick<Sheet, 'title' | 'sections'>[];
  /** What stands at the foot of each page: what the sheets belong to, such as the looms with revision, options and day. */
  foot: string;
  asOf: string;
  paper: Paper;
}

/**
 * Sheets as one PDF, each from a new page. Every page says its sheet, its number of how many, and the foot; labels have
 * pages for themselves, since their places are those of the label paper. The same sheets are the same bytes.
 */
export async function sheetsPdf(
  { title, sheets, foot, asOf, paper }: Print,
  fonts: Fonts,
): Promise<Uint8Array<ArrayBuffer>> {
  const size = { widthPt: PAPER_MM[paper].widthMm * PT, heightPt: PAPER_MM[paper].heightMm * PT };
  const ink = inkOf({ title: printable(title), asOf }, fonts);
  const area = { left: SIDE, top: TOP, width: size.widthPt - 2 * SIDE, bottom: size.heightPt - BOTTOM };
  for (const sheet of sheets) {
    const start = () => {
      ink.newPage(size);
      drawFoot(ink, { ...area, sheet: printable(sheet.title), foot: printable(foot) });
    };
    const blocks = sheet.sections.flatMap((section) => section.blocks);
    if (blocks.some(({ form }) => form !== 'labels')) {
      const flow = flowOf(ink, area, start);
      putTitle(flow, sheet.title);
      putSections(flow, sheet.sections);
      flow.finish();
    }
    for (const block of blocks) if (block.form === 'labels') putLabels(ink, block, size);
  }
  return ink.end();
}

interface Foot {
  left: number;
  width: number;
  bottom: number;
  sheet: string;
  foot: string;
}

/** The sheet and its page above, what it belongs to in at most two lines below. */
function drawFoot(ink: Ink, { left, width, bottom, sheet, foot }: Foot): void {
  const right = left + width;
  const y = bottom + 5 * PT;
  ink.line(
    [
      [left, y - 9],
      [right, y - 9],
    ],
    0.5,
  );
  const page = `page ${ink.pages()} of `;
  const countAt = right - ink.widthOf('0000', SMALL);
  ink.words(page, countAt - ink.widthOf(page, SMALL), y, SMALL);
  ink.pageCount(countAt, y, SMALL);
  ink.words(inOneLine(ink, sheet, width - 90, STRONG), left, y, STRONG);
  const lines = wrapped(ink, foot, width, SMALL);
  const shown = lines.length <= FOOT_LINES ? lines : [inOneLine(ink, foot, width, SMALL)];
  shown.forEach((line, at) => ink.words(line, left, y + (at + 1) * 10, SMALL));
}
