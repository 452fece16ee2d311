import { exactToSolver, type Exact } from '../../units/money.ts';
import type { OnProgress } from '../model/mix.ts';
import { costOf, grain } from '../problem/pricing.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { UNUSED } from './allowed.ts';
import type { Assignment } from './assignment.ts';
import { descend } from './descent.ts';
import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';
import { planOf } from './rounding.ts';
import { nearest } from './settle.ts';

export interface SearchOptions {
  /** A mix to start from. */
  start?: Plan | undefined;
  onProgress?: OnProgress | undefined;
  /** Mixes of this cost and more are of no interest. */
  under?: Exact | undefined;
}

/** Costs nearer than this, in minor units, are not told apart by bounds. */
export const FINEST = 1e-5;
/** A better mix is looked for among about so many plans a block. */
const NEAR = 100;
/** What bounds aim at where no mix is known. */
const GUESS = 1.5;

/** The cheapest mix known, and what is still to be looked for. */
export class Incumbent {
  readonly #problem: Problem;
  readonly #relaxation: Relaxation;
  readonly #options: SearchOptions;
  readonly #ceiling: number;
  /** Half a grain: costs are whole grains. */
  readonly tolerance: number;
  plan: Plan | undefined;
  cost: Exact | undefined;
  /** What bounds climb towards, minor units. */
  target: number;
  #bound = -Infinity;

  constructor(problem: Problem, relaxation: Relaxation, options: SearchOptions) {
    const { start, under } = options;
    this.#problem = problem;
    this.#relaxation = relaxation;
    this.#options = options;
    this.tolerance = Math.max(exactToSolver(grain(problem), problem.scale) / 2, FINEST);
    this.#ceiling = under === undefined ? Infinity : this.#minor(under) - FINEST;
    this.plan = start;
    this.cost = start && costOf(problem, start);
    this.target = this.cost === undefined ? Infinity : this.#minor(this.cost);
  }

  #minor(cost: Exact): number {
    return exactToSolver(cost, this.#problem.scale);
  }

  /** What costs this or more is of no interest, minor units. */
  get limit(): number {
    return Math.min(this.#ceiling, this.target - this.tolerance);
  }

  /** Without a mix, a guess is aimed at. */
  aimAt(bound: number): void {
    if (!Number.isFinite(this.target)) this.target = bound * GUESS + 1000;
  }

  offer(plan: Plan): void {
    const cost = costOf(this.#problem, plan);
    if (this.cost !== undefined && cost >= this.cost) return;
    this.plan = plan;
    this.cost = cost;
    this.target = this.#minor(cost);
    this.tell(this.#bound);
  }

  tell(bound: number): void {
    this.#bound = Math.max(this.#bound, bound);
    const best = this.cost === undefined ? undefined : this.#minor(this.cost);
    this.#options.onProgress?.({ best, bound: Number.isFinite(this.#bound) ? this.#bound : undefined });
  }

  /** Looks for a mix near what the last look chose. */
  round(node: Node): void {
    const { store, atMost, look, network } = this.#relaxation;
    if (look.plan.some((plan) => plan < 0)) return;
    const closed = Uint8Array.from(node.allowed, (state) => (state === UNUSED ? 1 : 0));
    // Plans of one seller are there for doing without another.
    const isAlone = (plan: number) => store.secondLink[plan]! < 0;
    const alive = nearest(this.#relaxation, node.alive, network.blocks.length * NEAR, isAlone);
    const found = descend({ store, alive, closed, atMost }, look.plan);
    if (found && found.cost < this.target - this.tolerance) this.take(found);
  }

  /** The mix that an assignment stands for, offered; undefined where it cannot be ordered. */
  take(assignment: Assignment): Plan | undefined {
    const plan = planOf(this.#problem, this.#relaxation.store, assignment);
    if (plan) this.offer(plan);
    return plan;
  }

  /** What a mix of the problem's costs, minor units. */
  minorOf(plan: Plan): number {
    return this.#minor(costOf(this.#problem, plan));
  }
}
