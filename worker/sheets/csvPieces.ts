import { stringify } from 'csv-stringify/sync';
import { guarded } from '../csv/guard.ts';
import { printable } from './textTable.ts';

/** Rows of one piece of CSV. */
const ROWS = 200;

/** Rows as CSV (RFC 4180), guarded against formulas, in pieces of a bounded number of rows. */
export function* csvPieces(rows: Iterable<readonly string[]>): Generator<string> {
  let own: string[][] = [];
  for (const row of rows) {
    own.push(row.map((cell) => guarded(printable(cell))));
    if (own.length < ROWS) continue;
    yield csv(own);
    own = [];
  }
  if (own.length > 0) yield csv(own);
}

function csv(rows: string[][]): string {
  return stringify(rows, { record_delimiter: '\r\n' });
}
