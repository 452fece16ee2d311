/** How long a database that does not answer is waited for. */
export interface Limits {
  /** Until a connection is made and logged in, s. */
  connectSeconds: number;
  /** Without a byte from a server that owes an answer, s; the server itself ends a statement a little before. */
  answerSeconds: number;
  /** Until a transaction has a connection, ms. */
  waitMs: number;
}

/** A statement is quick: an import writes 200 rows at a time. Together they bound how long a caller waits. */
export const LIMITS: Limits = { connectSeconds: 5, answerSeconds: 30, waitMs: 10_000 };

/** Of one statement while a database is brought up to date, and of waiting for another process that does so, s. */
const MIGRATION_SECONDS = 600;

/** Seconds between two probes of an idle connection by the operating system. */
const KEEP_ALIVE_SECONDS = 15;
/** A transaction whose process says nothing is ended by the server after this, so that it holds no locks, ms. */
const IDLE_IN_TRANSACTION_MS = 60_000;
/** Longest pause between two attempts to connect, s. */
const LONGEST_PAUSE = 0.5;

const toServersThatWrite = { target_session_attrs: 'read-write', keep_alive: KEEP_ALIVE_SECONDS } as const;

/** What connections that serve requests and tasks are made with. */
export function poolOptions({ connectSeconds, answerSeconds }: Limits) {
  return {
    ...toServersThatWrite,
    connect_timeout: connectSeconds,
    answer_timeout: answerSeconds,
    backoff: (failures: number) => Math.min(0.05 * 2 ** failures, LONGEST_PAUSE) * (0.5 + Math.random() / 2),
    connection: {
      statement_timeout: Math.ceil(answerSeconds * 1000 * 0.8),
      idle_in_transaction_session_timeout: IDLE_IN_TRANSACTION_MS,
    },
  };
}

/** What the connection that migrates is made with. */
export const migrationOptions = {
  ...toServersThatWrite,
  connect_timeout: LIMITS.connectSeconds,
  answer_timeout: MIGRATION_SECONDS,
};
