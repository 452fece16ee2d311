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
  const { problem, untried, sourced, unsourced, findings } = compile(job, requirements, settings);
  if (problem.demands.length === 0) {
    const plan = { units: [], cuts: [], unmet: [] };
    const notProven = {
      plan,
      cost: 0n,
      bound: 0n,
      proven: false,
      stoppedBy: 'cutting',
      tiesSettled: false,
    } as const;
    return { problem, plan, ...(untried ? { solved: notProven } : {}), unsourced, findings };
  }
  const size = `${problem.demands.length} needs, ${problem.choices.length} offers, ${problem.suppliers.length} suppliers`;
  control.report({ phase: 'sourcing', message: `Looking for the cheapest mix: ${size}.` });
  const found = await solveProblem(problem, control, ({ best, bound }) =>
    control.report({ phase: 'sourcing', message: known(best, bound, job.club.currency) }),
  );
  const solved: Solved = untried ? { ...found, bound: 0n, proven: false, stoppedBy: 'cutting' } : found;
  const unmet = solved.plan.unmet.flatMap((index) => sourced[index] ?? []);
  const isNothing = solved.proven && unmet.length === problem.demands.length;
  return {
    problem,
    plan: solved.plan,
    ...(isNothing ? {} : { solved }),
    unsourced: [...unsourced, ...unmet.map((need) => leftUnmet(need, solved))],
    findings,
  };
}

/** What could be bought alone, but not beside the rest; or what was not found in the time. */
function leftUnmet({ id, label, kind }: Requirement, { stoppedBy }: Solved): Unsourced {
  const line = { requirement: id, label };
  if (stoppedBy !== undefined)
    return {
      ...line,
      why: 'There are offers of it, but no mix that meets it beside the rest was found.',
      todo: STOPPED[stoppedBy],
    };
  const colours =
    kind === 'wire' ? ', or one colour from one supplier (the setting oneColourOneSupplier),' : '';
  return {
    ...line,
    why: `There are offers of it, but stock, minimum orders${colours} do not allow it beside the rest; as few needs as possible are left out so.`,
    todo: 'Enter more offers, or the stock as it is now; or buy this apart.',
  };
}

const STOPPED = {
  time: 'Give it more time (the setting solverSeconds).',
  numbers:
    'Enter smaller quantities or a smaller minimum order: the numbers are beyond what can be worked with.',
  cutting: 'Enter longer lengths or an offer by the metre: not all ways of cutting could be tried.',
} as const;

/** "Best so far 123.45 GBP; no mix costs less than 120.10 GBP." */
function known(best: number | undefined, bound: number | undefined, currency: string): string {
  const amount = (minor: number) => `${minorToAmount(solverToMinor(minor), currency)} ${currency}`;
  return [
    best === undefined ? 'No mix found yet' : `Best so far ${amount(best)}`,
    bound === undefined ? 'no bound yet' : `no mix costs less than ${amount(bound)}`,
  ]
    .join('; ')
    .concat('.');
}
