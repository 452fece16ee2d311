import type { Logger } from 'pino';
import type { ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import type { Wake } from '../../worker/wake/wake.ts';
import type { ArchiveLimits } from '../archive/limits.ts';
import type { Checker } from './checker.ts';
import type { Gate } from './gate.ts';
import type { Meter } from './meter.ts';
import type { Bodies } from './reading/bodies.ts';
import type { Printer } from './printer.ts';
import type { ProblemKind, Stage } from './problem.ts';
import type { Watch } from './watch.ts';

/** Everything that the app works with; nothing is global. */
export interface Deps {
  database: Database;
  now: () => Date;
  newId: () => string;
  wake: Wake;
  watch: Watch;
  gate: Gate;
  checker: Checker;
  printer: Printer;
  bodies: Bodies;
  log: Logger;
  limits: {
    bodyBytes: number;
    /** How many tasks of a club may wait. */
    queuePerClub: number;
    archive: ArchiveLimits;
    /** Servers of one’s own through which every request comes. */
    trustedProxies: number;
  };
  /** Where the world finds this server, without a slash at the end; nothing where nobody has said. */
  publicUrl?: string | undefined;
  meter?: Meter | undefined;
}

/** What is known of a request before its handler runs. */
export type Env = {
  Variables: {
    requestId: string;
    /** A name of this one request that is ours alone. */
    instance: string;
    /** The path of the endpoint, with its names in braces; undefined where there is none. */
    route: string | undefined;
    problem: ProblemKind | undefined;
    /** Undefined before the key was looked up. */
    ctx: ClubCtx;
    stage?: Stage;
  };
};
