import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import type { Database } from '../db/connect.ts';
import { refillSearch } from '../db/search/refill.ts';

/** Gathers the words of a database that is older than the search, while the server answers; gives what ends it. */
export function gatherWords(database: Database, log: Logger): () => Promise<void> {
  const ending = new AbortController();
  const actor = {
    actor: 'system',
    role: 'admin',
    requestId: 'start',
    now: () => new Date(),
    newId: uuidv7,
  } as const;
  const gathered = refillSearch(database, actor, ending.signal).catch((error: unknown) =>
    log.error(
      { err: error },
      'words of parts and offers for the search could not be gathered; the next start goes on',
    ),
  );
  return async () => {
    ending.abort();
    await gathered;
  };
}
