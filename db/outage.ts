import { sqlState, StoreError } from './errors.ts';

/** The database could not do what was asked, through no fault of the request. The driver's error is the cause. */
class Outage extends StoreError {
  constructor(message: string, cause?: unknown) {
    super(message, { cause: driverError(cause) });
  }
}

/** The database did not answer, or refused before anything was committed: nothing of the transaction is stored. */
export class DatabaseAway extends Outage {
  override name = 'DatabaseAway';
}

/** The transaction was handed over to be committed and the answer was lost: it may be stored or not. */
export class OutcomeUnknown extends Outage {
  override name = 'OutcomeUnknown';
}

/** There is no room on the database's disk: nothing of the transaction is stored. */
export class StorageFull extends Outage {
  override name = 'StorageFull';
}

/** A server that was made read-only, as the old one is after a failover. */
export const READ_ONLY = '25006';

/** What the driver and the operating system call a connection that is not there or not there any more. */
const CONNECTION_CODES = new Set([
  'CONNECTION_CLOSED',
  'CONNECTION_ENDED',
  'CONNECTION_DESTROYED',
  'CONNECT_TIMEOUT',
  'ANSWER_TIMEOUT',
  'SESSION_NOT_READ-WRITE',
  'ECONNREFUSED',
  'ECONNRESET',
  'EPIPE',
  'ETIMEDOUT',
  'EHOSTUNREACH',
  'ENETUNREACH',
  'ENOTFOUND',
  'EAI_AGAIN',
]);

/**
 * SQLSTATEs of a server that goes, comes, is overloaded or read-only (PostgreSQL, appendix A): connection exceptions,
 * too_many_connections, query_canceled by a time limit, *_shutdown, cannot_connect_now, idle transaction ended.
 */
const AWAY = /^(08...|53300|57014|57P0[1235]|25P03|25006)$/;

/** disk_full, and io_error where the words say that there is no room; PostgreSQL's and the file system's codes. */
function isFull(state: string, error: unknown): boolean {
  if (['53100', 'ENOSPC', 'EDQUOT'].includes(state)) return true;
  return state === '58030' && /no space left|quota exceeded/i.test(messageOf(error));
}

/** The kind of outage that an error tells of; undefined where it tells of none. */
export function outageOf(error: unknown): 'away' | 'full' | undefined {
  const state = sqlState(driverError(error)) ?? '';
  if (isFull(state, driverError(error))) return 'full';
  return CONNECTION_CODES.has(state) || AWAY.test(state) ? 'away' : undefined;
}

/**
 * An error of a transaction as what it means. `committing`: all was done and COMMIT was to be sent. Only a server that
 * answers with an ERROR says then that nothing was stored; a connection that is cut, or a FATAL, leaves it open.
 */
export function meaningOf(error: unknown, committing: boolean): unknown {
  if (error instanceof Outage) return error;
  if (committing && severityOf(error) !== 'ERROR')
    return new OutcomeUnknown('The answer of the database to a commit was lost.', error);
  const outage = outageOf(error);
  if (outage === 'full') return new StorageFull('The disk of the database is full.', error);
  if (outage === 'away') return new DatabaseAway('The database does not answer.', error);
  return error;
}

/** The innermost cause: what the driver threw, whoever wrapped it. */
function driverError(error: unknown): unknown {
  let found = error;
  while (found instanceof Error && found.cause !== undefined) found = found.cause;
  return found;
}

function severityOf(error: unknown): unknown {
  return (driverError(error) as { severity?: unknown } | null)?.severity;
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : '';
}
