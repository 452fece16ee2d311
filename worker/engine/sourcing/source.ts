import type { Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import { minorToAmount, solverToMinor } from '../units/money.ts';
import { compile } from './compile.ts';
import type { Plan, Problem } from './problem.ts';
import { solveProblem, type Solved } from './solve.ts';

/** What to buy where. */
export interface Sourcing {
  problem: Problem;
  plan: Plan;
  /** Nothing where there is nothing to buy. */
  solved?: Solved;
  unsourced: Unsourced[];
  findings: Finding[];
}

/** Meets a normalised job's requirements from its offers at the least delivered cost. Throws Cancelled. */
export async function source(
  job: Job,
  requirements: readonly Requirement[],
  settings: SettingValues,
  control: Control,
): Promise<Sourcing> {
  const { problem, sourced, unsourced, findings } = compile(job, requirements, settings);
  if (problem.demands.length === 0)
    return { problem, plan: { units: [], cuts: [], unmet: [] }, unsourced, findings };
  const size = `${problem.demands.length} needs, ${problem.choices.length} offers, ${problem.suppliers.length} suppliers`;
  control.report({ phase: 'sourcing', message: `Looking for the cheapest mix: ${size}.` });
  const solved = await solveProblem(problem, control, ({ best, bound }) =>
    control.report({ phase: 'sourcing', message: known(best, bound, job.club.currency) }),
  );
  const unmet = solved.plan.unmet.flatMap((index) => sourced[index] ?? []);
  const isNothing = solved.proven && unmet.length === problem.demands.length;
  return {
    problem,
    plan: solved.plan,
    ...(isNothing ? {} : { solved }),
    unsourced: [...unsourced, ...unmet.map(leftUnmet)],
    findings,
  };
}

/** What could be bought alone, but not beside the rest. */
function leftUnmet({ id, label }: Requirement): Unsourced {
  return {
    requirement: id,
    label,
    why: 'There are offers of it, but stock and minimum orders do not allow it beside the rest; as few as possible are left out so.',
    todo: 'Enter more offers, or the stock as it is now; or buy this apart.',
  };
}

/** "best 123.45, bound 120.10 GBP" */
function known(best: number | undefined, bound: number | undefined, currency: string): string {
  const amount = (minor: number | undefined) =>
    minor === undefined ? 'none yet' : minorToAmount(solverToMinor(minor), currency);
  return `Best ${amount(best)}, bound ${amount(bound)} ${currency}.`;
}
