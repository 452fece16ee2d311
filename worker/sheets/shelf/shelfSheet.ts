import type { Section } from '../block.ts';
import { sectionPieces } from '../blockHtml.ts';
import { markup } from '../html.ts';
import { PAGE_END, pageStart } from '../pageHtml.ts';
import type { Paper } from '../paper.ts';
import { sheetStyle } from '../style.ts';

/** A sheet of what is on its way or lies on the shelf, which is of no quote. It is plain data, so that a thread can be given it. */
export interface ShelfSheet {
  /** What sheet it is, as it stands at the foot of each page. */
  kind: 'Goods-in list' | 'Stock list' | 'Stock labels';
  title: string;
  /** What each page says of what it belongs to. */
  about: string;
  /** The day on which it was made, by UTC. */
  day: string;
  sections: readonly Section[];
}

/** The sheet as a page to print, in pieces of bounded size; without a paper the page has the size of the printer's. */
export function* shelfSheetHtml(
  { kind, title, about, sections }: ShelfSheet,
  paper?: Paper,
): Generator<string> {
  yield pageStart(title, sheetStyle(kind, paper));
  yield `${markup`<div class="sheet">
      <h1>${title}</h1>
      <p class="small">${about}</p>`.toString()}\n`;
  for (const piece of sectionPieces(sections, paper)) yield `${piece.toString()}\n`;
  yield `</div>${PAGE_END}`;
}
