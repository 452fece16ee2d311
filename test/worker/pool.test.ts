import { expect, test } from 'vitest';
import type { Progress } from '../../worker/engine/model/control.ts';
import { threadPool, type Pool } from '../../worker/threads/pool.ts';
import { ANSWERS, DEAF, poolOf } from '../support/threads.ts';

const nobody = () => undefined;

/** Starts work and waits until its thread has spoken. */
async function begun(pool: Pool) {
  let heard: (progress: Progress) => void = nobody;
  const first = new Promise<Progress>((resolve) => (heard = resolve));
  const running = pool.start({}, (progress) => heard(progress));
  await first;
  return running;
}

test('a thread that does not look at its flag is ended, and its work counts as cancelled', async () => {
  const running = await begun(poolOf(DEAF));
  running.cancel();
  expect(await running.ended).toEqual({ how: 'cancelled' });
});

test('a thread that hears its flag says so itself, and lives on for the next piece of work', async () => {
  const pool = poolOf(`
    const flag = new Int32Array(work.stop);
    port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'thread ' + threadId } });
    const look = setInterval(() => {
      if (Atomics.load(flag, 0) === 0) return;
      clearInterval(look);
      port.postMessage({ says: 'cancelled' });
    }, 1);`);
  const threads: string[] = [];
  for (let piece = 0; piece < 2; piece++) {
    const running = pool.start({}, ({ message }) => {
      threads.push(message);
      running.cancel();
    });
    expect(await running.ended).toEqual({ how: 'cancelled' });
  }
  expect(threads).toEqual([threads[0], threads[0]]);
});

test('a thread that was ended is not used again', async () => {
  const pool = poolOf(`if (work.job.deaf) { ${DEAF} } else { ${ANSWERS} }`);
  const deaf = pool.start({ deaf: true }, () => deaf.cancel());
  expect(await deaf.ended).toEqual({ how: 'cancelled' });
  expect(await pool.start({}, nobody).ended).toMatchObject({ how: 'done', worked: { job: 'the job' } });
});

test.each([
  ['ends of itself', 'process.exit(0);', undefined],
  ['throws', 'throw new Error("no more");', 'Error'],
  ['leaves a promise rejected', 'void Promise.reject(new Error("no more"));', 'Error'],
])('a thread that %s ends its work as died by its name, and not the process', async (_how, onWork, code) => {
  expect(await poolOf(onWork).start({}, nobody).ended).toEqual({
    how: 'died',
    memoryMb: 256,
    ...(code ? { code } : {}),
  });
});

test('a thread that cannot start ends its work as died', async () => {
  const pool = threadPool(1, { entry: new URL('file:///there/is/no/such/file.mjs') });
  expect(await pool.start({}, nobody).ended).toMatchObject({ how: 'died' });
});

test('as many threads work at once as are asked for, and idle ones are kept', async () => {
  const pool = poolOf(ANSWERS, 2);
  const results = async () => {
    const ended = await Promise.all([pool.start({}, nobody).ended, pool.start({}, nobody).ended]);
    return ended.map((end) => (end.how === 'done' ? end.worked.result : end.how)).sort();
  };
  const first = await results();
  expect(new Set(first).size).toBe(2);
  expect(await results()).toEqual(first);
});

test('what a thread says of a job that is not valid is cut to its first fault', async () => {
  const pool = poolOf(`port.postMessage({ says: 'notValid', findings: [
    { at: '/parts/0/code', todo: 'Give it a code.' }, { at: '/parts/1/code', todo: 'Another.' }] });`);
  expect(await pool.start({}, nobody).ended).toEqual({
    how: 'notValid',
    findings: 2,
    first: '/parts/0/code: Give it a code.',
  });
});
