import { inject } from 'vitest';
import { openAsBlob } from 'node:fs';

/** A migrated, empty PGlite folder, dumped once a run: it opens in a fraction of the time that a new one takes. */
export async function emptyFolder(): Promise<Blob | undefined> {
  const dump = inject('embeddedDump');
  return dump === null ? undefined : openAsBlob(dump);
}
