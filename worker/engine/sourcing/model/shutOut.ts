import type { Control } from '../../model/control.ts';
import type { Problem } from '../problem/problem.ts';
import { judgedOf, type Knowledge, type Open } from './counted.ts';
import { SHUT_OUT_COST_SHARE } from '../../solver/tolerances.ts';

/**
 * How much the cutting works on one mix, in times its usual limits: at first, and each time that it is asked again. The
 * first settles nearly all; the last takes far longer than there is time.
 */
export const EFFORTS: readonly number[] = Array.from({ length: 11 }, (_, at) => 4 ** (at - 2));

/**
 * Mixes that are shut out for the time being, as the cutting could not say whether all pieces come out of them, each with
 * what it, and whatever buys no more of each length for that requirement, does not go below.
 */
export class ShutOut {
  readonly #problem: Problem;
  readonly #knowledge: Knowledge;
  readonly #control: Control;
  readonly #efforts: readonly number[];
  /** `asked`: how often the cutting has been asked. */
  #open: (Open & { bound: number; asked: number })[] = [];

  constructor(problem: Problem, knowledge: Knowledge, control: Control, efforts: readonly number[]) {
    this.#problem = problem;
    this.#knowledge = knowledge;
    this.#control = control;
    this.#efforts = efforts;
  }

  add(open: readonly Open[], bound: number): void {
    this.#open.push(...open.map((one) => ({ ...one, bound, asked: 1 })));
  }

  /** Nothing that is shut out goes below this. */
  bound(): number {
    return this.#open.reduce((least, { bound }) => Math.min(least, bound), Infinity);
  }

  /** What is known, and what is shut out as if it were known to be too little. */
  withKnowledge(): Knowledge {
    const all: Knowledge = new Map(this.#knowledge);
    for (const { requirement, lengths } of this.#open) {
      const known = all.get(requirement);
      if (known) all.set(requirement, { ...known, tooLittle: [...known.tooLittle, lengths] });
    }
    return all;
  }

  /**
   * Looks again at what may still be better than the best, with more effort each time. Settled: nothing is. Changed: some
   * of it can be cut, and is shut out no longer. Else what ended it.
   */
  async settle(best: number): Promise<'settled' | 'changed' | 'time' | 'cutting'> {
    for (;;) {
      const blocking = this.#open.filter(
        ({ bound }) => bound < best - SHUT_OUT_COST_SHARE * Math.max(1, Math.abs(best)),
      );
      const [next] = blocking.sort((a, b) => a.asked - b.asked || a.bound - b.bound);
      if (!next) return 'settled';
      if (this.#control.remainingMs() <= 0 || this.#control.cancelled()) return 'time';
      const effort = this.#efforts[next.asked++];
      if (effort === undefined) return 'cutting';
      const verdict = await judgedOf(
        this.#problem,
        next.plan,
        next.requirement,
        this.#knowledge,
        this.#control,
        effort,
      );
      if (verdict === 'unknown') continue;
      this.#open = this.#open.filter((one) => one !== next);
      if (verdict !== 'refused') return 'changed';
    }
  }
}
