import type { Control } from '../../model/control.ts';
import type { Problem } from '../problem.ts';
import { Assignment } from './assignment.ts';
import { completePlans } from './completePlans.ts';
import type { Relaxation } from './dual.ts';
import type { Incumbent } from './incumbent.ts';
import { leafProblem, solveLeaf } from './leaf.ts';
import { linkSplit } from './linkSplit.ts';
import type { Climber, Node } from './node.ts';
import { choosePlans } from './planModel.ts';
import { nearest, settle } from './settle.ts';

/** Of a node's plans so many are tried first, for so many nodes of the solver's. */
const FEW_PLANS = 120;
const FEW_NODES = 5;
const LOOKS = 15;
const SHARE = 0.3;

/** Works nodes in which every supplier is settled: unused, or in one band. */
export class SettledNodes {
  readonly #problem: Problem;
  readonly #relaxation: Relaxation;
  readonly #climber: Climber;
  readonly #incumbent: Incumbent;
  readonly #control: Control;

  constructor(
    problem: Problem,
    relaxation: Relaxation,
    climber: Climber,
    incumbent: Incumbent,
    control: Control,
  ) {
    this.#problem = problem;
    this.#relaxation = relaxation;
    this.#climber = climber;
    this.#incumbent = incumbent;
    this.#control = control;
  }

  /** What is left to be worked of a node; undefined where time ended first. */
  async work(node: Node): Promise<readonly Node[] | undefined> {
    // What was left out of it since may leave a block nothing.
    if (!settle(this.#relaxation, node, this.#incumbent.limit)) return [];
    const bound = this.#relaxation.at(node);
    if (bound === Infinity) return [];
    if (!node.tried) {
      await this.#tryFew(node);
      return [node];
    }
    const isComplete = node.complete || completePlans(this.#relaxation, node, this.#incumbent.limit - bound);
    if (!isComplete) {
      const halves = linkSplit(this.#relaxation, node);
      if (halves) return halves.flatMap((half) => this.#half(node, half));
      return this.#solve(node);
    }
    const chosen = await choosePlans(this.#relaxation.store, node, this.#incumbent.limit, this.#control);
    if (chosen.status === 'none') return [];
    if (chosen.status !== 'chosen') return undefined;
    const plan = this.#incumbent.take(new Assignment(this.#relaxation.store, chosen.plan));
    const isReached = plan && this.#incumbent.minorOf(plan) - chosen.bound < 2 * this.#incumbent.tolerance;
    return isReached ? [] : this.#solve(node);
  }

  /** A better mix known leaves fewer plans to be written out. */
  async #tryFew(node: Node): Promise<void> {
    node.tried = true;
    const few = { ...node, alive: nearest(this.#relaxation, node.alive, FEW_PLANS) };
    const { store } = this.#relaxation;
    const chosen = await choosePlans(store, few, this.#incumbent.limit, this.#control, FEW_NODES);
    if ('plan' in chosen) this.#incumbent.take(new Assignment(store, chosen.plan));
  }

  #half(node: Node, half: Node): Node[] {
    const { toll, credit } = node.dual;
    const kid: Node = { ...half, dual: { toll: toll.slice(), credit: credit.slice() } };
    const { limit, target } = this.#incumbent;
    this.#climber.climb(kid, { looks: LOOKS, share: SHARE, goal: limit, target });
    this.#climber.polish(kid);
    return settle(this.#relaxation, kid, limit) ? [kid] : [];
  }

  /** Where orders cannot be made up to their limits by just what is missing, the solver's own model says what is best. */
  async #solve(node: Node): Promise<readonly Node[] | undefined> {
    const problem = leafProblem(this.#problem, this.#relaxation, node, this.#incumbent.limit);
    const mix = await solveLeaf(problem, this.#control);
    if (mix.status === 'infeasible') return [];
    if (mix.plan) this.#incumbent.offer(mix.plan);
    if (mix.status === 'stopped') return undefined;
    return [];
  }
}
