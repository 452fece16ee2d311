import { Cancelled, type Control } from '../../model/control.ts';
import { solveMilp, type MilpAnswer } from '../../solver/milp.ts';
import { objectiveAt } from '../../solver/model.ts';
import { judged, type Knowledge } from './counted.ts';
import type { Aim } from './aims.ts';
import { formulate } from './formulate.ts';
import type { Plan, Problem } from '../problem/problem.ts';

/** Reported while solving: amounts in minor units, as the solver holds them. */
export type OnProgress = (known: { best: number | undefined; bound: number | undefined }) => void;

/**
 * How a solve ended. `optimal`: this plan, and none is better. `stopped`: by time, by numbers that the solver cannot hold,
 * or because the cutting could not say whether what is bought is enough; with the best plan found, if any.
 */
export type Mix =
  | { status: 'optimal'; plan: Plan; bound: number; objective: number }
  | {
      status: 'stopped';
      plan?: Plan;
      bound: number;
      stoppedBy: 'time' | 'numbers' | 'cutting';
    }
  | { status: 'infeasible' };

interface MixOptions {
  /** A plan to start from. */
  start?: Plan | undefined;
  onProgress?: OnProgress | undefined;
}

/**
 * The best plan under an aim. Where demands are cut by counts, what the model buys is put to the cutting; where not all
 * pieces come out of it, the model learns why and is solved again: it never shuts a plan out that can be cut, so the last
 * one is the best of all. Throws Cancelled, and what solveMilp throws.
 */
export async function bestMix(
  problem: Problem,
  aim: Aim,
  knowledge: Knowledge,
  control: Control,
  { start, onProgress }: MixOptions = {},
): Promise<Mix> {
  let bound = -Infinity;
  for (;;) {
    const form = formulate(problem, aim, knowledge);
    const progress =
      onProgress && knowledge.size > 0
        ? ({ bound: known }: Parameters<OnProgress>[0]) => onProgress({ best: undefined, bound: known })
        : onProgress;
    const answer: MilpAnswer = await solveMilp(form.model, control, {
      ...(start ? { seed: form.seed(start) } : {}),
      ...(progress ? { onProgress: progress } : {}),
    });
    if (answer.status === 'infeasible') return answer;
    bound = Math.max(bound, answer.bound);
    const found = answer.values && form.plan(answer.values);
    if (!found)
      return {
        status: 'stopped',
        bound,
        stoppedBy: answer.status === 'interrupted' ? answer.stoppedBy : 'numbers',
      };
    const plan = knowledge.size > 0 ? await judged(problem, found, knowledge, control) : found;
    if (control.cancelled()) throw new Cancelled();
    if (plan === 'unknown') return { status: 'stopped', bound, stoppedBy: 'cutting' };
    if (plan === 'refused') {
      if (control.remainingMs() > 0) continue;
      return { status: 'stopped', bound, stoppedBy: 'time' };
    }
    if (answer.status === 'optimal')
      return { status: 'optimal', plan, bound: answer.bound, objective: answer.objective };
    return { status: 'stopped', plan, bound, stoppedBy: answer.stoppedBy };
  }
}

/** What the model of an aim says of a plan. */
export function objectiveOf(problem: Problem, aim: Aim, knowledge: Knowledge, plan: Plan): number {
  const form = formulate(problem, aim, knowledge);
  return objectiveAt(form.model, form.seed(plan));
}
