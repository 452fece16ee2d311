import { ConfigError } from './config.ts';

/** Why a process could not start, in a sentence that says what to do; no SQL, no password. */
export function startFault(error: unknown): string {
  if (error instanceof ConfigError) return `The environment cannot be used:\n${error.message}`;
  const { code, address, port } = deepest(error) as { code?: string; address?: string; port?: number };
  const at = address === undefined ? '' : ` (${address}${port === undefined ? '' : `:${port}`})`;
  switch (code ?? '') {
    case 'EADDRINUSE':
      return `The port${at} is in use by another process. Stop that one, or set PORT to another.`;
    case 'ECONNREFUSED':
    case 'ENOTFOUND':
    case 'CONNECT_TIMEOUT':
    case 'CONNECTION_CLOSED':
    case 'ANSWER_TIMEOUT':
    case 'ECONNRESET':
      return `PostgreSQL does not answer${at}. Start it, or fix DATABASE_URL.`;
    case '57P03':
      return 'PostgreSQL is starting or stopping. Start this again in a moment.';
    case 'SESSION_NOT_READ-WRITE':
    case '25006':
      return `PostgreSQL${at} is read-only. Name the server that can be written to in DATABASE_URL.`;
    case '53100':
      return 'The disk of the database is full (53100). Free some room on it, then start again.';
    case 'ENOSPC':
    case 'EDQUOT':
      return 'The disk is full. Free some room on it, then start again.';
    case '28P01':
    case '28000':
      return 'PostgreSQL refuses the login. Fix user and password in DATABASE_URL.';
    case '3D000':
      return 'The database that DATABASE_URL names does not exist. Create it, or name another.';
    default: {
      const cause = deepest(error);
      return cause instanceof Error ? cause.message : 'It could not start.';
    }
  }
}

function deepest(error: unknown): object {
  let found: unknown = error;
  while (found instanceof Error && found.cause !== undefined) found = found.cause;
  if (found instanceof AggregateError && found.errors[0] !== undefined) return found.errors[0] as object;
  return typeof found === 'object' && found !== null ? found : {};
}
