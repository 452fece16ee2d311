import type { Pool } from '../../worker/threads/pool.ts';
import { placesOf, unforeseen, type Limits } from './places.ts';
import { HttpProblem } from './problem.ts';

/** Checks looms in threads, a few at a time, each within a time. */
export interface Checker {
  /**
   * Has the loom of a job checked and answers with the text of a Checks document. The job is loaded only where a place
   * is free. Problems: 429 where the club has too many, 503 where it takes too long or the server stops, 409 for what cannot be checked.
   */
  check(club: string, load: () => Promise<unknown>): Promise<string>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

/** `pool` is the checker's own: it closes it. */
export function checkerOf(given: Limits & { pool: Pool }): Checker {
  const places = placesOf(given, {
    full: 'Too many looms of your club are being checked at once. Try again in a few seconds.',
    late: `The checks did not finish within ${given.withinMs / 1000} s. Ask for a quote instead: it runs the same checks as a task, with more time.`,
  });
  return {
    check: async (club, load) => {
      const ended = await places.work(club, load, { kind: 'check' });
      if (ended.how === 'checked') return ended.checks;
      if (ended.how === 'notValid')
        throw new HttpProblem(
          'conflict',
          `The stored data cannot be checked: ${ended.findings} faults; the first at ${ended.first}`,
        );
      throw unforeseen('check', ended);
    },
    close: () => places.close(),
  };
}
