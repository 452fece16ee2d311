import { exactToSolver, type Exact } from '../../units/money.ts';
import type { OnProgress } from '../model/mix.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { costOf, grain } from '../problem/pricing.ts';
import type { OnCertificate } from './certificate.ts';
import { BOUND_COST } from '../../solver/tolerances.ts';

export interface SearchOptions {
  /** A mix to start from. */
  start?: Plan | undefined;
  onProgress?: OnProgress | undefined;
  /** Mixes of this cost and more are of no interest. */
  under?: Exact | undefined;
  /** Whether mixes of the same cost are of interest afterwards. */
  ties?: boolean;
  /** Told what each bound closes, and by which multipliers. */
  onCertificate?: OnCertificate | undefined;
}

/** The cheapest mix known, and what is still to be looked for. */
export class Incumbent {
  readonly #problem: Problem;
  readonly #tell: OnProgress | undefined;
  readonly #ceiling: number;
  /** Half a grain: costs are whole grains. */
  readonly tolerance: number;
  /** Whether mixes of the same cost are of interest, once it is proven. */
  isTying = false;
  plan: Plan | undefined;
  cost: Exact | undefined;
  #bound = -Infinity;

  constructor(problem: Problem, { start, under, onProgress }: SearchOptions) {
    this.#problem = problem;
    this.#tell = onProgress;
    this.tolerance = Math.max(exactToSolver(grain(problem), problem.scale) / 2, BOUND_COST);
    this.#ceiling = under === undefined ? Infinity : exactToSolver(under, problem.scale) - BOUND_COST;
    if (start) this.offer(start);
  }

  /** What it costs, minor units; Infinity where none is known. */
  get best(): number {
    return this.cost === undefined ? Infinity : exactToSolver(this.cost, this.#problem.scale);
  }

  /** What costs this or more is of no interest, minor units: half a grain under the best, as the next cheaper mix is a grain cheaper. */
  get limit(): number {
    return this.isTying ? this.best + this.tolerance : Math.min(this.#ceiling, this.best - this.tolerance);
  }

  minorOf(plan: Plan): number {
    return exactToSolver(costOf(this.#problem, plan), this.#problem.scale);
  }

  offer(plan: Plan): void {
    const cost = costOf(this.#problem, plan);
    if (this.cost !== undefined && cost >= this.cost) return;
    this.plan = plan;
    this.cost = cost;
    this.tell(this.#bound);
  }

  /** Tells what is known; a bound is one on all mixes. */
  tell(bound: number): void {
    this.#bound = Math.max(this.#bound, bound);
    this.#tell?.({
      best: this.cost === undefined ? undefined : this.best,
      bound: Number.isFinite(this.#bound) ? this.#bound : undefined,
    });
  }
}
