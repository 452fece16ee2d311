import { readResult } from '../engine/model/upgrade.ts';
import type { Result } from '../engine/model/result.ts';
import { sheetsPdf } from '../sheets/pdf/sheetsPdf.ts';
import type { Paper } from '../sheets/paper.ts';
import { loomsLine } from '../sheets/sheet.ts';
import type { ShelfSheet } from '../sheets/shelf/shelfSheet.ts';
import { sheetOf } from '../sheets/sheets.ts';
import { readFonts } from './fonts.ts';
import type { PrintOrder } from './messages.ts';

/** Sheets of a result as one PDF. */
export function printPdf(
  result: Result,
  { sheets, paper, labels }: PrintOrder,
): Promise<Uint8Array<ArrayBuffer>> {
  const all = sheets.map((name) => sheetOf(result, name, labels));
  const [first] = all;
  return sheetsPdf(
    {
      title: all.length === 1 && first ? first.title : `Sheets as of ${result.asOf}`,
      sheets: all,
      foot: loomsLine(result),
      asOf: result.asOf,
      paper,
    },
    readFonts(),
  );
}

/** The same of the text of a stored result. */
export function printStored(text: string, order: PrintOrder): Promise<Uint8Array<ArrayBuffer>> {
  return printPdf(readResult(JSON.parse(text)), order);
}

/** A sheet of the shelf as PDF. */
export function printShelf(sheet: ShelfSheet, paper: Paper): Promise<Uint8Array<ArrayBuffer>> {
  const { title, about, day } = sheet;
  return sheetsPdf({ title, sheets: [sheet], foot: about, asOf: day, paper }, readFonts());
}
