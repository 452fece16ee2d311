import type { Progress } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { LabelLayout } from '../sheets/labels/label.ts';
import type { Paper } from '../sheets/paper.ts';
import type { SheetName } from '../sheets/sheet.ts';

/** Which sheets are printed, and how. */
export interface PrintOrder {
  sheets: readonly SheetName[];
  paper: Paper;
  labels: LabelLayout;
}

/**
 * What is done with a job: it is priced, its loom is checked, or the price is found at which one of its offers is bought. To
 * print, the text of a result is given in the place of a job, or a ShelfSheet.
 */
export type What =
  | { kind: 'price' }
  | { kind: 'check' }
  | { kind: 'winningPrice'; offer: string }
  | { kind: 'print'; order: PrintOrder }
  | { kind: 'printShelf'; paper: Paper };

/** What a thread is given. `stop` is one shared number: not 0 means that the work is no longer wanted. */
export type Work = What & { job: unknown; stop: SharedArrayBuffer };

/** The texts that a priced job stores. */
export interface Worked {
  job: string;
  jobHash: string;
  result: string;
}

/**
 * What a thread says back. `quoted`: the quote is there, without what lies beside it, which is worked next. `checked` and `answered` carry the Checks or WinningPrice document as it is served; `stopped` at
 * most the first findings; `notUsable` why an offer has no price at which it is bought.
 */
export type Said =
  | { says: 'progress'; progress: Progress }
  | { says: 'quoted'; worked: Worked }
  | { says: 'done'; worked: Worked }
  | { says: 'checked'; checks: string }
  | { says: 'answered'; answer: string }
  | { says: 'printed'; pdf: Uint8Array<ArrayBuffer> }
  | { says: 'notUsable'; findings: Finding[] }
  | { says: 'cancelled' }
  | { says: 'notValid'; findings: Finding[] }
  | { says: 'stopped'; findings: Finding[]; count: number }
  | { says: 'failed'; name: string; message: string };
