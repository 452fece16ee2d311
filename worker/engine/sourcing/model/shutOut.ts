import type { Control } from '../../model/control.ts';
import type { Problem } from '../problem/problem.ts';
import { judgedOf, type Knowledge, type Open } from './counted.ts';

/** How much the cutting works on one mix, in times its usual limits: at first, so many times more at each later time, and at most. */
export interface Effort {
  first: number;
  times: number;
  most: number;
}

/** A first look settles nearly all; the last takes far longer than there is time. */
export const USUAL_EFFORT: Effort = { first: 1 / 16, times: 4, most: 4 ** 8 };

/** What costs less than the best by no more than this share of it is not told apart by the solver. */
const NOISE = 1e-9;

/**
 * Mixes that are shut out for the time being, as the cutting could not say whether all pieces come out of them, each with
 * what it, and whatever buys no more of each length for that demand, does not go below.
 */
export class ShutOut {
  readonly #problem: Problem;
  readonly #knowledge: Knowledge;
  readonly #control: Control;
  readonly #effort: Effort;
  #open: (Open & { bound: number; effort: number })[] = [];

  constructor(problem: Problem, knowledge: Knowledge, control: Control, effort: Effort) {
    this.#problem = problem;
    this.#knowledge = knowledge;
    this.#control = control;
    this.#effort = effort;
  }

  add(open: readonly Open[], bound: number): void {
    this.#open.push(...open.map((one) => ({ ...one, bound, effort: this.#effort.first })));
  }

  /** Nothing that is shut out goes below this. */
  bound(): number {
    return this.#open.reduce((least, { bound }) => Math.min(least, bound), Infinity);
  }

  /** What is known, and what is shut out as if it were known to be too little. */
  withKnowledge(): Knowledge {
    const all: Knowledge = new Map(this.#knowledge);
    for (const { demand, lengths } of this.#open) {
      const known = all.get(demand);
      if (known) all.set(demand, { ...known, tooLittle: [...known.tooLittle, lengths] });
    }
    return all;
  }

  /**
   * Looks again at what may still be better than the best, with more effort each time. Settled: nothing is. Changed: some
   * of it can be cut, and is shut out no longer. Else what ended it.
   */
  async settle(best: number): Promise<'settled' | 'changed' | 'time' | 'cutting'> {
    for (;;) {
      const blocking = this.#open.filter(({ bound }) => bound < best - NOISE * Math.max(1, Math.abs(best)));
      const [next] = blocking.sort((a, b) => a.effort - b.effort || a.bound - b.bound);
      if (!next) return 'settled';
      if (this.#control.remainingMs() <= 0 || this.#control.cancelled()) return 'time';
      if (next.effort >= this.#effort.most) return 'cutting';
      next.effort = Math.min(this.#effort.most, Math.max(next.effort, this.#effort.first) * this.#effort.times);
      const verdict = await judgedOf(
        this.#problem,
        next.plan,
        next.demand,
        this.#knowledge,
        this.#control,
        next.effort,
      );
      if (verdict === 'unknown') continue;
      this.#open = this.#open.filter((one) => one !== next);
      if (verdict !== 'refused') return 'changed';
    }
  }
}
