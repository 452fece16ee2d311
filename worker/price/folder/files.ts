/** A catalogue to take from, each list as it stands in a job file. */
export interface Starter {
  readonly parts: readonly unknown[];
  readonly fits: readonly unknown[];
}

/** What the price command does with folders outside itself. */
export interface Folders {
  /** The names of the files in a folder; undefined where there is no such folder. */
  names(folder: string): Promise<readonly string[] | undefined>;
  open(folder: string, name: string): AsyncIterable<Uint8Array>;
  starter(): Promise<Starter>;
  /** Today, YYYY-MM-DD. */
  today(): string;
}

/** What the user can fix; its message says how. */
export class NotWorkable extends Error {}
