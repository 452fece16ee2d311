import type { Result } from '../engine/model/result.ts';
import { cuttingCsv } from './bench/cuttingCsv.ts';
import { labelsCsv } from './bench/labelsCsv.ts';
import { sectionPieces } from './blockHtml.ts';
import { ruled, sectionsText } from './blockText.ts';
import { markup } from './html.ts';
import { orderListsCsv } from './orderListCsv.ts';
import { PAGE_END, pageStart } from './pageHtml.ts';
import type { Paper } from './paper.ts';
import { loomsLine, SHEET_TITLES, type Sheet } from './sheet.ts';
import { sheetStyle } from './style.ts';
import { tablesCsv } from './tablesCsv.ts';
import { groupedPieces, paragraph } from './textTable.ts';

/**
 * Sheets as one page to print, in pieces of bounded size. Where a paper is stated, the page has that size; else it is the
 * printer's.
 */
export function* sheetsHtml(result: Result, sheets: readonly Sheet[], paper?: Paper): Generator<string> {
  const [first] = sheets;
  const title = sheets.length === 1 && first ? first.title : `Sheets as of ${result.asOf}`;
  yield pageStart(
    title,
    sheetStyle(sheets.length === 1 && first ? SHEET_TITLES[first.name] : 'All sheets', paper),
  );
  for (const [at, sheet] of sheets.entries()) {
    yield `${markup`<div class="${at === 0 ? 'sheet' : 'sheet page'}">
      <h1>${sheet.title}</h1>
      <p class="small">${loomsLine(result)}</p>`.toString()}\n`;
    for (const piece of sectionPieces(sheet.sections, paper)) yield `${piece.toString()}\n`;
    yield '</div>\n';
  }
  yield PAGE_END;
}

/** A sheet as text, in pieces. */
export function* sheetText(result: Result, sheet: Sheet): Generator<string> {
  yield `${sheet.title}\n${paragraph(loomsLine(result))}\n`;
  for (const section of sheet.sections) {
    const [only, ...others] = section.blocks;
    if (only?.form === 'groups' && others.length === 0) {
      yield `\n\n${ruled(section.title)}\n`;
      for (const piece of groupedPieces(only.columns, only.groups)) yield `\n${piece}\n`;
      continue;
    }
    const words = sectionsText([section]);
    if (words !== '') yield `\n\n${words}\n`;
  }
}

/** A sheet as CSV, in pieces; undefined of the quote, which is no table. */
export function sheetCsv(result: Result, sheet: Sheet): Iterable<string> | undefined {
  switch (sheet.name) {
    case 'quote':
      return undefined;
    case 'orders':
      return [orderListsCsv(result.orderLists)];
    case 'cutting':
      return cuttingCsv(result);
    case 'labels':
      return labelsCsv(result);
    case 'build':
    case 'test':
      return tablesCsv(sheet.sections);
  }
}
