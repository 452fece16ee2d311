import type { Logger } from 'pino';
import type { ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import type { Wake } from '../../worker/wake/wake.ts';
import type { ArchiveLimits } from '../archive/limits.ts';
import type { Checker } from './checker.ts';
import type { Bodies } from './reading/bodies.ts';
import type { Printer } from './printer.ts';
import type { Watch } from './watch.ts';

/** Everything that the app works with; nothing is global. */
export interface Deps {
  database: Database;
  now: () => Date;
  newId: () => string;
  wake: Wake;
  watch: Watch;
  checker: Checker;
  printer: Printer;
  bodies: Bodies;
  log: Logger;
  limits: { bodyBytes: number; archive: ArchiveLimits };
}

/** What is known of a request before its handler runs. */
export type Env = { Variables: { requestId: string; ctx: ClubCtx } };
