import { unwritable } from '../command/files.ts';
import { documentText } from '../engine/model/canonical.ts';
import type { Result } from '../engine/model/result.ts';
import { DEFAULT_LABELS } from '../sheets/labels/label.ts';
import { orderListText } from '../sheets/orderList.ts';
import { orderListCsv } from '../sheets/orderListCsv.ts';
import { orderListHtml } from '../sheets/orderListHtml.ts';
import { orderName } from '../sheets/orderSums.ts';
import type { Paper } from '../sheets/paper.ts';
import { sheetCsv, sheetsHtml, sheetText } from '../sheets/print.ts';
import { appendixHtml } from '../sheets/quoteHtml.ts';
import { appendixText } from '../sheets/quoteText.ts';
import { SHEET_NAMES, type SheetName } from '../sheets/sheet.ts';
import { sheetOf } from '../sheets/sheets.ts';
import { NotWorkable } from './folder/files.ts';
import type { Surroundings } from './run.ts';

/** Which sheets are written, and for what paper. */
export interface SheetsAsked {
  /** undefined: all, with the result and the appendix. */
  sheets: readonly SheetName[] | undefined;
  paper: Paper | undefined;
}

type NamedFile = [name: string, content: string | Uint8Array];

/** Writes a quote's sheets to a folder, as text, page, CSV and PDF. Throws NotWorkable where that cannot be. */
export async function writeSheets(
  folder: string,
  { worked, result }: { worked: Result; result: Result },
  asked: SheetsAsked,
  around: Surroundings,
): Promise<void> {
  const files: NamedFile[] = [
    ...(asked.sheets === undefined ? wholeFiles(worked, result) : []),
    ...(asked.sheets ?? SHEET_NAMES).flatMap((name) => sheetFiles(result, name, asked.paper)),
    ...(await pdfFiles(result, asked)),
  ];
  for (const [name, content] of files) {
    try {
      await around.writeFile(folder, name, content);
    } catch (error) {
      throw new NotWorkable(unwritable(name, folder, error));
    }
  }
  around.warn(`Written to ${folder}: ${files.map(([name]) => name).join(', ')}\n`);
  // An order list of an earlier quote must not be sent with those of this one.
  const written = new Set(files.map(([name]) => name));
  const earlier = ((await around.filesIn?.(folder)) ?? []).filter(
    (name) => /^order-.*\.(csv|html|txt)$/.test(name) && !written.has(name),
  );
  if (earlier.length > 0)
    around.warn(`Delete these, they are from an earlier quote: ${earlier.sort().join(', ')}\n`);
}

function wholeFiles(worked: Result, result: Result): NamedFile[] {
  return [
    ['result.json', documentText(worked)],
    ['appendix.txt', appendixText(result)],
    ['appendix.html', appendixHtml(result)],
  ];
}

function sheetFiles(result: Result, name: SheetName, paper: Paper | undefined): NamedFile[] {
  const sheet = sheetOf(result, name);
  const csv = sheetCsv(result, sheet);
  const rest = name === 'quote' ? '\n\nThe appendix is in appendix.txt.\n' : '';
  return [
    [`${name}.txt`, `${joined(sheetText(result, sheet))}${rest}`],
    [`${name}.html`, joined(sheetsHtml(result, [sheet], paper))],
    ...(csv ? [[`${name}.csv`, joined(csv)] satisfies NamedFile] : []),
    ...(name === 'orders' ? orderFiles(result) : []),
  ];
}

function orderFiles({ orderLists, asOf }: Result): NamedFile[] {
  return orderLists.flatMap((list): NamedFile[] => [
    [`${orderName(list)}.csv`, orderListCsv(list)],
    [`${orderName(list)}.html`, orderListHtml({ list, asOf })],
    [`${orderName(list)}.txt`, `${orderListText({ list, asOf })}\n`],
  ]);
}

/** A PDF of each sheet, and one of all that are asked for. */
async function pdfFiles(
  result: Result,
  { sheets = SHEET_NAMES, paper = 'a4' }: SheetsAsked,
): Promise<NamedFile[]> {
  // The library is loaded only where something is printed.
  const { printPdf } = await import('../threads/printed.ts');
  const files: NamedFile[] = [];
  for (const name of sheets)
    files.push([`${name}.pdf`, await printPdf(result, { sheets: [name], paper, labels: DEFAULT_LABELS })]);
  if (sheets.length > 1)
    files.push(['all.pdf', await printPdf(result, { sheets, paper, labels: DEFAULT_LABELS })]);
  return files;
}

const joined = (pieces: Iterable<string>) => [...pieces].join('');
