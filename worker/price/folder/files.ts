/** What the price command does with folders outside itself. */
export interface Folders {
  /** The names of the files in a folder; undefined where there is no such folder. */
  names(folder: string): Promise<readonly string[] | undefined>;
  open(folder: string, name: string): AsyncIterable<Uint8Array>;
  /** The parts of the starter catalogue, as they stand in a job file. */
  starter(): Promise<readonly unknown[]>;
  /** Today, YYYY-MM-DD. */
  today(): string;
}

/** What the user can fix; its message says how. */
export class NotWorkable extends Error {}
