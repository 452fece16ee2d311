import type { Paper } from '../../worker/sheets/paper.ts';
import type { ShelfSheet } from '../../worker/sheets/shelf/shelfSheet.ts';
import type { PrintOrder, What } from '../../worker/threads/messages.ts';
import type { Pool } from '../../worker/threads/pool.ts';
import { placesOf, unforeseen, type Limits } from './places.ts';

/** Prints sheets as PDF in threads, a few at a time, each within a time. */
export interface Printer {
  /**
   * Has sheets of a result, given as its text, printed. It is loaded only where a place is free. Problems: 429 where the
   * club has too many, 503 where it takes too long or the server stops.
   */
  print(club: string, load: () => Promise<string>, order: PrintOrder): Promise<Uint8Array<ArrayBuffer>>;
  /** The same of a sheet of the shelf. */
  printShelf(club: string, load: () => Promise<ShelfSheet>, paper: Paper): Promise<Uint8Array<ArrayBuffer>>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

/** `pool` is the printer's own: it closes it. */
export function printerOf(given: Limits & { pool: Pool }): Printer {
  const places = placesOf(given, {
    full: 'Too many PDFs of your club are being made at once. Try again in a few seconds.',
    late: `The PDF was not made within ${given.withinMs / 1000} s. Ask for one sheet at a time, or for format=html: it is sent while it is made, and any browser prints it.`,
  });
  async function printed(club: string, load: () => Promise<unknown>, what: What) {
    const ended = await places.work(club, load, what);
    if (ended.how === 'printed') return ended.pdf;
    throw unforeseen('print', ended);
  }
  return {
    print: (club, load, order) => printed(club, load, { kind: 'print', order }),
    printShelf: (club, load, paper) => printed(club, load, { kind: 'printShelf', paper }),
    close: () => places.close(),
  };
}
