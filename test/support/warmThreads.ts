import { threadPool, type Pool } from '../../worker/threads/pool.ts';

const threads = threadPool(1);

/**
 * The engine's threads for every house of this process: starting one and loading the engine takes longer than most tests.
 * What closes it leaves it open for the next; its threads end with the process.
 */
export const warmThreads: Pool = {
  start: (...work) => threads.start(...work),
  close: () => Promise.resolve(),
};
