import type { TaskProblem } from '../../db/schema/index.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { Ended } from '../threads/pool.ts';

/** A task whose worker died this often is not tried again: it would take the next worker with it. */
export const MOST_ATTEMPTS = 5;

/** Its worker died too often. */
export const GAVE_UP: TaskProblem = {
  code: 'gave-up',
  title: 'The work was given up',
  detail: `Its worker ended ${MOST_ATTEMPTS} times before it was done. Ask for a smaller quote, or give the worker more memory.`,
};

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
  ended: Extract<Ended, { how: 'checked' | 'printed' | 'notValid' | 'failed' | 'died' }>,
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
    case 'died':
      return {
        code: 'engine-died',
        title: 'The engine ended',
        detail:
          'The worker probably ran out of memory. Ask for a smaller quote, or give the worker more memory.',
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
