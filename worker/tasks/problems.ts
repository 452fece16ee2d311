import { sqlState } from '../../db/errors.ts';
import type { TaskProblem } from '../../db/schema/index.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { Ended } from '../threads/pool.ts';

/** A task whose thread ended this often by itself, while its worker had nothing else in hand, is not tried again. */
export const MOST_CRASHES = 2;

/**
 * A task whose worker was lost more often is not tried again. Far above what restarts and kills do to one task: a task that
 * takes its worker's process with it must not do so for ever.
 */
export const MOST_LOST = 30;

/** Its worker was lost too often; from outside or by the task, nobody can tell. */
export const GAVE_UP: TaskProblem = {
  code: 'gave-up',
  title: 'The work was given up',
  detail: `Its worker ended or did not answer ${MOST_LOST + 1} times before it was done, mostly while it worked on nothing else. The reason is not known: it may be that the worker was stopped from outside, or that the computer ran out of memory. Look at the log of the worker and of the computer, then ask again.`,
};

/** The database refused what it has to read or to store, or the worker has a fault. */
export const FAILED_AGAIN: TaskProblem = {
  code: 'engine-error',
  title: 'The engine failed',
  detail: `The worker could not finish it, ${MOST_CRASHES} times. The log has the id of the task and the reason. Report it with the job.`,
};

/** Classes of SQLSTATE that speak of the data of a statement: data, integrity, size. */
const OF_DATA = /^(22|23|54)/;

/** Whether an error is of the task itself, and would come again, rather than of the database or the network. */
export function isOfTask(error: unknown): boolean {
  const state = sqlState(error);
  if (state !== undefined) return OF_DATA.test(state);
  return error instanceof TypeError || error instanceof RangeError || error instanceof SyntaxError;
}

/** What Node says of a thread that needed more memory than it may have. */
const OUT_OF_MEMORY = 'ERR_WORKER_OUT_OF_MEMORY';

/** Its thread ended by itself each time, while its worker had nothing else in hand. */
export function diedOf({ code, memoryMb }: Extract<Ended, { how: 'died' }>): TaskProblem {
  const times = `${MOST_CRASHES} times, while the worker worked on nothing else`;
  if (code === OUT_OF_MEMORY)
    return {
      code: 'engine-died',
      title: 'The memory was not enough',
      detail: `It needed more than the ${memoryMb} MB of memory that a quote may use (LOOMWRIGHT_THREAD_MB), ${times}. Ask for a smaller quote, or let quotes use more memory.`,
    };
  return {
    code: 'engine-died',
    title: 'The engine ended',
    detail: `The engine ended by itself${code === undefined ? '' : ` (${code})`}, ${times}. The log has the id of the task. Report it with the job.`,
  };
}

/** Findings keep the quote from being made. */
export function stoppedBy({ findings, count }: Extract<Ended, { how: 'stopped' }>): TaskProblem {
  const these = count === 1 ? 'One fault stops' : `${count} faults stop`;
  const first = count > findings.length ? ` The first ${findings.length} are listed here.` : '';
  return {
    code: 'checks-stopped',
    title: 'Faults stop this quote',
    detail: `${these} it, because the setting stopsBlock is on.${first} Fix the loom, accept a fault in its asOriginal, or turn stopsBlock off.`,
    findings,
  };
}

/** It gave no result that could be stored. */
export function problemOf(
  ended: Extract<Ended, { how: 'checked' | 'printed' | 'notValid' | 'failed' }>,
): TaskProblem {
  switch (ended.how) {
    case 'notValid':
      return {
        code: 'job-not-valid',
        title: 'The stored data cannot be priced',
        detail: `${ended.findings} faults; the first at ${ended.first}`,
      };
    case 'checked':
    case 'printed':
    case 'failed':
      return {
        code: 'engine-error',
        title: 'The engine failed',
        detail: 'Nothing was stored. The log has the id of the task. Report it with the job.',
      };
  }
}

/** The offer asked about has no price at which it is bought. */
export function notUsable(findings: Finding[]): TaskProblem {
  return {
    code: 'offer-not-usable',
    title: 'The offer cannot be bought for this quote',
    detail: 'The quote cannot buy it at any price. The findings say why. Fix them and ask for a new quote.',
    findings,
  };
}
