import { onTestFinished } from 'vitest';
import { threadPool, type Pool } from '../../worker/threads/pool.ts';

/** A pool whose threads run this text instead of the engine: `port` speaks with the pool, `work` is what it sends. */
export function poolOf(onWork: string, size = 1, memoryMb = 256): Pool {
  const source = `
    import { parentPort as port, threadId } from 'node:worker_threads';
    port.on('message', (work) => { ${onWork} });`;
  const pool = threadPool(size, {
    entry: new URL(`data:text/javascript,${encodeURIComponent(source)}`),
    memoryMb,
  });
  onTestFinished(() => pool.close());
  return pool;
}

/** Says that it has begun, and then hears nothing any more: as the solver between two looks at its flag. */
export const DEAF = `port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'deaf' } }); for (;;);`;

/** Answers at once. The thread's own number stands in the result. */
export const ANSWERS = `port.postMessage({ says: 'done', worked: { job: 'the job', jobHash: 'hash', result: JSON.stringify('thread ' + threadId) } });`;
