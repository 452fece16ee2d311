import { byCode } from '../model/code.ts';
import type { Control } from '../model/control.ts';
import { figuresKept } from '../model/figures.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import { minorToAmount, solverToMinor, type Exact } from '../units/money.ts';
import { compile, type Compiled, type Order } from './compile/compile.ts';
import type { AskedRequirement, Option } from './asked/requirements.ts';
import { withLongOffcuts, type StandsIn } from './offcuts.ts';
import { isActive, type Plan, type Problem } from './problem/problem.ts';
import { severalLengths } from './findings/severalLengths.ts';
import { solveProblem, type Solved, type SolveOptions } from './solve/solve.ts';

/** What to buy where. */
export interface Sourcing {
  problem: Problem;
  /** The mix as it is worked from: what was solved, its lengths cut so that long offcuts are left. */
  plan: Plan;
  /** By the place of a requirement in the problem: what it is of. */
  sourced: AskedRequirement[];
  /** What the problem's options stand for. */
  options: Option[];
  /** Tools that are to be bought beside what the looms need. */
  tools: Requirement[];
  /** Nothing where there is nothing to buy. */
  solved?: Solved;
  unsourced: Unsourced[];
  findings: Finding[];
  /** The same with a better mix that was found later. */
  withMix(solved: Solved): Sourcing;
}

/** How the cheapest mix is looked for, where that is not for a quote. */
export interface HowSourced extends Pick<SolveOptions, 'ties' | 'start'> {
  /** Mixes of this cost or more are of no interest. */
  under?: ((problem: Problem) => Exact | undefined) | undefined;
}

/** Meets a normalised job's requirements from its offers at the least delivered cost. Throws Cancelled. */
export async function source(
  job: Job,
  order: Order,
  settings: SettingValues,
  control: Control,
  { under: underIn, ...how }: HowSourced = {},
): Promise<Sourcing> {
  const compiled = compile(job, order, settings);
  const { problem } = compiled;
  if (problem.requirements.length === 0) return nothingNeeded(compiled);
  const size = `${problem.requirements.length} needs, ${problem.choices.length} offers, ${problem.suppliers.length} suppliers`;
  control.report({ phase: 'sourcing', message: `Searching for the cheapest mix: ${size}.` });
  const figuresOf = figuresKept(job.club.currency);
  const under = underIn?.(problem);
  const solved = await solveProblem(problem, control, {
    ...how,
    ...(under === undefined ? {} : { under }),
    onProgress: ({ best, bound }) => {
      const figures = figuresOf({ best, bound });
      control.report({
        phase: 'sourcing',
        message: known(best, bound, job.club.currency),
        ...(figures ? { figures } : {}),
      });
    },
  });
  return sourcingOf(job, compiled, solved, settings.offcutMinimumMm);
}

function nothingNeeded({ problem, sourced, options, tools, unsourced, findings }: Compiled): Sourcing {
  const plan = { units: [], cuts: [], unmet: [], without: [], options: [] };
  const sourcing: Sourcing = {
    ...{ problem, plan, sourced, options, tools, unsourced, findings },
    withMix: () => sourcing,
  };
  return sourcing;
}

function sourcingOf(job: Job, compiled: Compiled, solved: Solved, keepMm: number): Sourcing {
  const { problem, sourced, options, tools, unsourced, whyNot, findings } = compiled;
  const stock = new Map(job.stock.map((item) => [item.code, item.part]));
  const standsIn: StandsIn = (requirement, at) => {
    const part = stock.get(problem.choices[at]?.offer ?? '') ?? '';
    return sourced[requirement]?.parts.get(part) !== undefined;
  };
  const plan = withLongOffcuts(problem, solved.plan, keepMm, standsIn);
  const unmet = plan.unmet.flatMap((index) => sourced[index] ?? []);
  const served = new Set(problem.requirements.flatMap(({ id, choices }) => (choices.length > 0 ? [id] : [])));
  const asked = problem.requirements.filter((requirement) => isActive(requirement, plan.options)).length;
  const isNothing = solved.proven && unmet.length === asked;
  return {
    problem,
    plan,
    sourced,
    options,
    tools: [
      ...tools,
      ...sourced.flatMap(({ rolledUp, follows }, index) => {
        const requirement = problem.requirements[index];
        return follows && requirement && isActive(requirement, plan.options) ? [rolledUp] : [];
      }),
    ].sort((a, b) => byCode(a.id, b.id)),
    ...(isNothing ? {} : { solved }),
    unsourced: [
      ...unsourced,
      ...unmet.flatMap(({ rolledUp }) =>
        served.has(rolledUp.id) ? [leftUnmet(rolledUp, solved)] : whyNot([rolledUp]),
      ),
    ],
    findings: [
      ...findings,
      ...notInsistedOn(job, plan.without),
      ...severalLengths(job, problem, plan, sourced),
    ],
    withMix: (better) => sourcingOf(job, compiled, better, keepMm),
  };
}

/** Suppliers insisted on from whom nothing comes, as nothing that they sell goes with what else is asked. */
function notInsistedOn(job: Job, without: readonly string[]): Finding[] {
  return without.map((supplier) => ({
    code: 'insisted-supplier-left-out',
    severity: 'warning',
    at: pointer(['request', 'insistOn', (job.request.insistOn ?? []).indexOf(supplier)]),
    where: `supplier ${supplier}`,
    found:
      'nothing that it sells can be bought together with the rest of the request: because of stock, minimum orders, families, or the number of suppliers',
    todo: 'The quote is made without it. Change the other terms of the request, or remove it from insistOn.',
  }));
}

/** What could be bought alone, but not beside the rest; or what was not found in the time. */
function leftUnmet({ id, label, kind }: Requirement, { stoppedBy }: Solved): Unsourced {
  const line = { requirement: id, label };
  if (stoppedBy !== undefined)
    return {
      ...line,
      why: 'There are offers for it, but no mix was found that meets it together with the rest.',
      todo: STOPPED[stoppedBy],
    };
  const colours = kind === 'wire' ? ', one colour from one supplier (the setting oneColourOneSupplier)' : '';
  return {
    ...line,
    why: `There are offers for it, but they cannot be bought together with the rest, because of stock, minimum orders${colours}, or the terms of the request about suppliers and families. As few needs as possible are left out.`,
    todo: 'Enter more offers, update the stock, relax the terms about suppliers, or buy this separately.',
  };
}

const STOPPED = {
  time: 'Give it more time (the setting solverSeconds).',
  numbers:
    'Enter smaller quantities or a smaller minimum order: the numbers are too large to calculate with.',
  cutting:
    'Enter longer lengths or an offer by the metre: the best way to cut its pieces could not be found.',
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
