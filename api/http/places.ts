import type { Ended, Pool, Running } from '../../worker/threads/pool.ts';
import type { What } from '../../worker/threads/messages.ts';
import { HttpProblem } from './problem.ts';
import { turnsOf } from './turns.ts';

export interface Limits {
  atOnce: number;
  withinMs: number;
}

/** A few places for work in threads, each within a time, in turns among clubs. */
export interface Places {
  /**
   * Has work of a club done in a thread; what it works on is loaded only when a place is free. A club's work waits only for
   * that of others. Problems: 429 where the club has as many in hand and waiting as there are places, or none becomes free
   * within the time; 503 where the server stops or it takes too long.
   */
  work(club: string, load: () => Promise<unknown>, what: What): Promise<Ended>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

/** `pool` is its own: it closes it. `told`: what a caller is told who finds no place, or whose work takes too long. */
export function placesOf(
  { pool, atOnce, withinMs }: Limits & { pool: Pool },
  told: { full: string; late: string },
): Places {
  const running = new Set<Running>();
  const line = turnsOf(atOnce, withinMs);
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
    async work(club, load, what) {
      if (closed) throw stopping();
      const free = await line.take(club);
      if (free === undefined)
        throw new HttpProblem('too-many', told.full, { headers: { 'retry-after': '2' } });
      try {
        return await inThread(await load(), what);
      } finally {
        free();
      }
    },
    async close() {
      closed = true;
      line.close();
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
