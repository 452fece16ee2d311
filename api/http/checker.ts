import type { Ended, Pool, Running } from '../../worker/threads/pool.ts';
import { HttpProblem } from './problem.ts';

/** Checks looms in threads, a few at a time, each within a time. */
export interface Checker {
  /**
   * Has the loom of a job checked and answers with the text of a Checks document. The job is loaded only where a place
   * is free. Problems: 429 where none is, 503 where it takes too long or the server stops, 409 for what cannot be checked.
   */
  check(load: () => Promise<unknown>): Promise<string>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

interface Limits {
  atOnce: number;
  withinMs: number;
}

/** `pool` is the checker's own: it closes it. */
export function checkerOf({ pool, atOnce, withinMs }: Limits & { pool: Pool }): Checker {
  const running = new Set<Running>();
  let taken = 0;
  let closed = false;

  async function inThread(job: unknown): Promise<string> {
    // It may have been closed while the job was loaded.
    if (closed) throw stopping();
    const work = pool.start(job, () => undefined, { kind: 'check' });
    running.add(work);
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      work.cancel();
    }, withinMs);
    try {
      const ended = await work.ended;
      if (ended.how === 'checked') return ended.checks;
      if (closed) throw stopping();
      throw late ? tooLate(withinMs) : refusalOf(ended);
    } finally {
      clearTimeout(timer);
      running.delete(work);
    }
  }

  return {
    async check(load) {
      if (closed) throw stopping();
      if (taken >= atOnce)
        throw new HttpProblem(
          'too-many',
          'Too many looms are being checked at once. Try again in a few seconds.',
          {
            headers: { 'retry-after': '2' },
          },
        );
      taken++;
      try {
        return await inThread(await load());
      } finally {
        taken--;
      }
    },
    async close() {
      closed = true;
      for (const work of running) work.cancel();
      await Promise.all([...running].map((work) => work.ended));
      await pool.close();
    },
  };
}

function stopping(): HttpProblem {
  return new HttpProblem('not-ready', 'The server is stopping. Try again when it has restarted.', {
    headers: { 'retry-after': '5' },
  });
}

function tooLate(withinMs: number): HttpProblem {
  return new HttpProblem(
    'out-of-time',
    `The checks did not finish within ${withinMs / 1000} s. Ask for a quote instead: it runs the same checks as a task, with more time.`,
    { headers: { 'retry-after': '60' } },
  );
}

function refusalOf(ended: Ended): Error {
  if (ended.how === 'notValid')
    return new HttpProblem(
      'conflict',
      `The stored data cannot be checked: ${ended.findings} faults; the first at ${ended.first}`,
    );
  const unforeseen = new Error('the check gave no answer');
  // The log tells an error by its name alone.
  unforeseen.name = ended.how === 'failed' ? `check failed: ${ended.name}` : `check ended: ${ended.how}`;
  return unforeseen;
}
