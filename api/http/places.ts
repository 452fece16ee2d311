import type { Ended, Pool, Running } from '../../worker/threads/pool.ts';
import type { What } from '../../worker/threads/messages.ts';
import { HttpProblem } from './problem.ts';

export interface Limits {
  atOnce: number;
  withinMs: number;
}

/** A few places for work in threads, each within a time. */
export interface Places {
  /**
   * Has work done in a thread; what it works on is loaded only where a place is free. Problems: 429 where none is, 503 where
   * the server stops or it takes too long.
   */
  work(load: () => Promise<unknown>, what: What): Promise<Ended>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

/** `pool` is its own: it closes it. `told`: what a caller is told who finds no place, or whose work takes too long. */
export function placesOf(
  { pool, atOnce, withinMs }: Limits & { pool: Pool },
  told: { full: string; late: string },
): Places {
  const running = new Set<Running>();
  let taken = 0;
  let closed = false;

  async function inThread(given: unknown, what: What): Promise<Ended> {
    // It may have been closed while it was loaded.
    if (closed) throw stopping();
    const work = pool.start(given, () => undefined, what);
    running.add(work);
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      work.cancel();
    }, withinMs);
    try {
      const ended = await work.ended;
      if (ended.how === 'checked' || ended.how === 'printed') return ended;
      if (closed) throw stopping();
      if (late) throw new HttpProblem('out-of-time', told.late, { headers: { 'retry-after': '60' } });
      return ended;
    } finally {
      clearTimeout(timer);
      running.delete(work);
    }
  }

  return {
    async work(load, what) {
      if (closed) throw stopping();
      if (taken >= atOnce) throw new HttpProblem('too-many', told.full, { headers: { 'retry-after': '2' } });
      taken++;
      try {
        return await inThread(await load(), what);
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

/** Work that ended as nobody foresaw. */
export function unforeseen(what: string, ended: Ended): Error {
  return unforeseenNamed(what, ended.how === 'failed' ? ended.name : ended.how);
}

/** The log tells an error by its name alone. */
export function unforeseenNamed(what: string, how: string): Error {
  const error = new Error(`the ${what} gave no answer`);
  error.name = `${what} ended: ${how}`;
  return error;
}
