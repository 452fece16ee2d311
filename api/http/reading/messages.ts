import type { Names } from '../../../db/references.ts';
import type { ClubSays } from '../../../db/shortContext.ts';
import type { Finding } from '../../../worker/engine/model/finding.ts';
import type { Part } from '../../../worker/engine/model/part.ts';
import type { ProblemKind } from '../problem.ts';

/** What a thread is given: a body, the endpoint that it was sent to ("POST /v1/looms"), and what its club settles of it. */
export interface ToRead {
  endpoint: string;
  bytes: Uint8Array;
  /** Left out: it is read alone, if that can be. */
  club?: ClubSays;
}

/**
 * What a thread says back. `sound`: the body as JSON in UTF-8, which costs a fraction of a copy of what it says. `asksClub`:
 * the body cannot be read alone.
 */
export type HasRead =
  | { says: 'sound'; body: Uint8Array<ArrayBuffer>; made: readonly Part[] }
  | { says: 'asksClub' }
  | { says: 'faulty'; findings: Finding[]; named: Names[] }
  | { says: 'problem'; kind: ProblemKind; detail: string; findings: Finding[] | undefined }
  | { says: 'failed'; name: string };
