import type { Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import { minorToAmount, solverToMinor } from '../units/money.ts';
import { compile } from './compile.ts';
import { cheapestSinglePrices } from './greedy.ts';
import type { Plan, Problem } from './problem.ts';
import { solveProblem, type Solved } from './solve.ts';

/** What to buy where. */
export interface Sourcing {
  problem: Problem;
  /** Nothing where there is nothing to buy. */
  solved?: Solved;
  /** The plan that takes each line at its cheapest single price. */
  single: Plan;
  unsourced: Unsourced[];
  findings: Finding[];
}

/** Meets a normalised job's requirements from its offers at the least delivered cost. Throws Cancelled. */
export async function source(
  job: Job,
  requirements: readonly Requirement[],
  control: Control,
): Promise<Sourcing> {
  const { problem, unsourced, findings } = compile(job, requirements);
  if (problem.demands.length === 0) return { problem, single: [], unsourced, findings };
  const size = `${problem.demands.length} needs, ${problem.choices.length} offers, ${problem.suppliers.length} suppliers`;
  control.report({ phase: 'sourcing', message: `Looking for the cheapest mix: ${size}.` });
  const solved = await solveProblem(problem, control, ({ best, bound }) =>
    control.report({ phase: 'sourcing', message: known(best, bound, job.club.currency) }),
  );
  return { problem, solved, single: cheapestSinglePrices(problem), unsourced, findings };
}

/** "best 123.45, bound 120.10 GBP" */
function known(best: number | undefined, bound: number | undefined, currency: string): string {
  const amount = (minor: number | undefined) =>
    minor === undefined ? 'none yet' : minorToAmount(solverToMinor(minor), currency);
  return `Best ${amount(best)}, bound ${amount(bound)} ${currency}.`;
}
