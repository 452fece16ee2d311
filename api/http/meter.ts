import type { Pool } from '../../worker/threads/pool.ts';

/** One request that was answered. */
export interface Answered {
  /** The path of the endpoint with its names in braces, so that there are no more of them than endpoints. */
  route: string;
  method: string;
  status: number;
  seconds: number;
}

/** What counts requests. */
export interface Meter {
  answered(request: Answered): void;
  /** The same pool, whose threads are counted. */
  pool(name: string, size: number, pool: Pool): Pool;
}
