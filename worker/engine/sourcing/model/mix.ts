import { Cancelled, type Control } from '../../model/control.ts';
import { solveMilp, type MilpAnswer } from '../../solver/milp.ts';
import { objectiveAt } from '../../solver/model.ts';
import { judged, type Knowledge } from './counted.ts';
import type { Aim } from './aims.ts';
import { formulate } from './formulate.ts';
import { EFFORTS, ShutOut } from './shutOut.ts';
import type { Plan, Problem } from '../problem/problem.ts';

/** Reported while solving: amounts in minor units, as the solver holds them. */
export type OnProgress = (known: { best: number | undefined; bound: number | undefined }) => void;

/**
 * How a solve ended. `optimal`: this plan, and none is better. `stopped`: by time, by numbers that the solver cannot hold,
 * or because the cutting could not say with the most effort whether what a cheaper mix buys is enough; with the best plan
 * found, if any.
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
  /** How much the cutting works on one mix, each time that it is asked. */
  efforts?: readonly number[];
}

/**
 * The best plan under an aim. Where requirements are cut by counts, what the model buys is put to the cutting; where not all
 * pieces come out of it, the model learns why and is solved again: it never shuts a plan out that can be cut, so the last
 * one is the best of all. What the cutting cannot tell is shut out for the time being, with what it would cost; it is
 * looked at again, with more effort, while it might be better than the best that can be cut. Throws Cancelled, and what
 * solveMilp throws.
 */
export async function bestMix(
  problem: Problem,
  aim: Aim,
  knowledge: Knowledge,
  control: Control,
  { start, onProgress, efforts = EFFORTS }: MixOptions = {},
): Promise<Mix> {
  const isCut = knowledge.size > 0;
  const shutOut = new ShutOut(problem, knowledge, control, efforts);
  let best: { plan: Plan; objective: number } | undefined;
  let bound = -Infinity;
  /** No plan goes below this, whether it is shut out or not. */
  const floor = () => Math.min(bound, shutOut.bound());
  const tell = (inside: number | undefined) =>
    onProgress?.({
      best: best?.objective,
      bound: inside === undefined ? inside : Math.max(floor(), Math.min(inside, shutOut.bound())),
    });
  const stopped = (stoppedBy: 'time' | 'numbers' | 'cutting'): Mix => ({
    status: 'stopped',
    ...(best ? { plan: best.plan } : {}),
    bound: floor(),
    stoppedBy,
  });
  for (;;) {
    const form = formulate(problem, aim, shutOut.withKnowledge());
    const from = best?.plan ?? start;
    const progress = isCut ? ({ bound: known }: Parameters<OnProgress>[0]) => tell(known) : onProgress;
    const answer: MilpAnswer = await solveMilp(form.model, control, {
      ...(from ? { seed: form.seed(from) } : {}),
      ...(onProgress && progress ? { onProgress: progress } : {}),
    });
    // Beside what is shut out there is nothing more.
    if (answer.status === 'infeasible') bound = Infinity;
    else bound = Math.max(bound, answer.bound);
    const found = answer.status === 'infeasible' ? undefined : answer.values && form.plan(answer.values);
    if (answer.status !== 'infeasible' && !found)
      return stopped(answer.status === 'interrupted' ? answer.stoppedBy : 'numbers');
    if (found && answer.status !== 'infeasible') {
      const plan = isCut ? await judged(problem, found, knowledge, control, efforts[0] ?? 1) : found;
      if (control.cancelled()) throw new Cancelled();
      if (plan === 'refused') {
        if (control.remainingMs() <= 0) return stopped('time');
        if (isCut) tell(bound);
        continue;
      }
      if (Array.isArray(plan)) {
        shutOut.add(plan, bound);
        if (control.remainingMs() <= 0) return stopped('time');
        continue;
      }
      const objective = answer.objective ?? objectiveAt(form.model, answer.values ?? []);
      if (!best || objective < best.objective) best = { plan, objective };
      if (isCut) tell(bound);
      if (answer.status === 'interrupted') return stopped(answer.stoppedBy);
    }
    const before = floor();
    const ended = await shutOut.settle(best?.objective ?? Infinity);
    if (control.cancelled()) throw new Cancelled();
    if (ended === 'changed') {
      // What is shut out no longer may cost as little as it was said to.
      bound = before;
      continue;
    }
    if (ended !== 'settled') return stopped(ended);
    if (!best) return { status: 'infeasible' };
    const { plan, objective } = best;
    return { status: 'optimal', plan, bound: Math.min(floor(), objective), objective };
  }
}

/** What the model of an aim says of a plan. */
export function objectiveOf(problem: Problem, aim: Aim, knowledge: Knowledge, plan: Plan): number {
  const form = formulate(problem, aim, knowledge);
  return objectiveAt(form.model, form.seed(plan));
}
