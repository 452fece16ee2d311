import type { Control } from '../../../worker/engine/model/control.ts';
import type { Job } from '../../../worker/engine/model/job.ts';
import type { Left } from '../../../worker/engine/sourcing/model/aims.ts';
import { solveProblem, type Solved } from '../../../worker/engine/sourcing/solve/solve.ts';
import { exactToAmount } from '../../../worker/engine/units/money.ts';
import { problemOf } from '../../bench/direct.ts';
import { straight, type Straight } from './straight.ts';
import { leftBy, verdictOf, type Verdict } from './verdict.ts';

/** The engine beside the model given straight to the solver. */
export interface Judged {
  verdict: Verdict;
  /** What each found. */
  words: string;
  /** Requirements that go unmet, and suppliers insisted on from whom nothing comes. */
  undone: number;
  engineSeconds: number;
  straightSeconds: number;
}

/** Each within so many seconds. */
export async function judged(job: Job, limitSeconds: number): Promise<Judged> {
  const problem = problemOf(job);
  const engine = await timed(limitSeconds, (control) => solveProblem(problem, control, { ties: false }));
  const direct = await timed(limitSeconds, (control) => straight(problem, control));
  const { unmet, without } = leftBy(engine.found);
  const amount = (cost: bigint) => exactToAmount(cost, job.club.currency, problem.scale);
  return {
    verdict: verdictOf(engine.found, direct.found, problem.scale),
    words: `engine ${engineWords(engine.found, amount)}; straight ${straightWords(direct.found, amount)}`,
    undone: unmet + without,
    engineSeconds: engine.seconds,
    straightSeconds: direct.seconds,
  };
}

type Amount = (cost: bigint) => string;

function engineWords(engine: Solved, amount: Amount): string {
  const open = engine.proven
    ? []
    : [`not proven, bound ${amount(engine.bound)}, stopped by ${engine.stoppedBy ?? 'nothing'}`];
  return [amount(engine.cost), ...leftWords(leftBy(engine)), ...open].join(', ');
}

function straightWords(direct: Straight, amount: Amount): string {
  if (direct.proven) return [amount(direct.cost), ...leftWords(direct.left)].join(', ');
  const best = direct.left && direct.best;
  return `stopped by ${direct.why}${best === undefined ? '' : `, best ${amount(best)}`}`;
}

function leftWords({ unmet, without }: Left): string[] {
  return unmet + without === 0 ? [] : [`${unmet} unmet, nothing from ${without} insisted on`];
}

async function timed<T>(limitSeconds: number, work: (control: Control) => Promise<T>) {
  const start = performance.now();
  const found = await work({
    remainingMs: () => Math.max(0, limitSeconds * 1000 - (performance.now() - start)),
    cancelled: () => false,
    report: () => undefined,
  });
  return { found, seconds: (performance.now() - start) / 1000 };
}
