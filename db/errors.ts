import type { Finding } from '../worker/engine/model/finding.ts';

/** The small family of what a store refuses. It knows no transport; the edge maps it once. */
export class StoreError extends Error {}

/** The thing is not there, or not this club's: the two are told apart by nobody. */
export class NotFound extends StoreError {
  constructor(what: string) {
    super(`There is no ${what}.`);
  }
}

/** What was asked does not go with what is stored: a code in use, a part that a loom needs. */
export class Conflict extends StoreError {
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

/** The thing has changed since it was read. */
export class Stale extends StoreError {
  constructor() {
    super(
      'It has changed since you read it. Read it again, then send your change with the new ETag in If-Match.',
    );
  }
}

/** The caller may see the thing, and may not do this to it: it is not theirs. */
export class Forbidden extends StoreError {}

/** The thing is another one now, which has another code for ever. */
export class Moved extends StoreError {
  readonly code: string;
  readonly to: string;
  constructor(word: string, code: string, to: string) {
    super(`The ${word} ${code} was merged into ${to}. Use ${to}.`);
    this.code = code;
    this.to = to;
  }
}

/** The input names things that are not there. */
export class Invalid extends StoreError {
  readonly findings: Finding[];
  constructor(findings: Finding[]) {
    super('Some of what you sent cannot be used. Fix each fault that is listed and send it again.');
    this.findings = findings;
  }
}

/** SQLSTATE of a database error, whichever driver threw it. */
export function sqlState(error: unknown): string | undefined {
  return field(error, 'code');
}

/** Name of the constraint that a database error speaks of, whichever driver threw it. */
export function constraintOf(error: unknown): string | undefined {
  return field(error, 'constraint') ?? field(error, 'constraint_name');
}

function field(error: unknown, name: string): string | undefined {
  const cause = error instanceof Error && error.cause !== undefined ? error.cause : error;
  const value = (cause as Record<string, unknown> | null)?.[name];
  return typeof value === 'string' ? value : undefined;
}

export const UNIQUE_VIOLATION = '23505';
export const FOREIGN_KEY_VIOLATION = '23503';
