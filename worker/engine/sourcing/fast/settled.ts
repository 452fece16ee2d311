import type { Control } from '../../model/control.ts';
import { BeyondSolver } from '../../solver/milp.ts';
import type { Problem } from '../problem/problem.ts';
import { Assignment } from './assignment.ts';
import { completePlans } from './completePlans.ts';
import type { Relaxation } from './dual.ts';
import type { Incumbent } from './incumbent.ts';
import { leafProblem, solveLeaf } from './leaf.ts';
import { linkSplit } from './linkSplit.ts';
import type { Climber, Node } from './node.ts';
import { choosePlans } from './planModel.ts';
import { certify, nearest, settle } from './settle.ts';

/** So many of a node's plans are tried, for so many nodes of the solver's: first, and where its plans are too many to write out. */
const TRIALS = [
  { plans: 120, nodes: 5 },
  { plans: 600, nodes: 100 },
] as const;
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
    const bound = certify(this.#relaxation, node);
    if (bound === Infinity) return [];
    if (node.tried === 0) return this.#try(node);
    if (!this.#isComplete(node, bound)) {
      if (node.tried < TRIALS.length) return this.#try(node);
      const halves = linkSplit(this.#relaxation, node);
      if (halves) return halves.flatMap((half) => this.#half(node, half));
      return this.#solve(node);
    }
    const chosen = await choosePlans(this.#relaxation.store, node, this.#incumbent.limit, this.#control);
    if (chosen.status === 'none') return [];
    if (chosen.status !== 'chosen') return stopped(chosen.status === 'stopped' ? chosen.by : 'time');
    const plan = this.#incumbent.take(new Assignment(this.#relaxation.store, chosen.plan));
    const isReached = plan && this.#incumbent.minorOf(plan) - chosen.bound < 2 * this.#incumbent.tolerance;
    return isReached ? [] : this.#solve(node);
  }

  /** Whether all plans that a cheaper mix can have are at hand. */
  #isComplete(node: Node, bound: number | undefined): boolean {
    if (node.complete || bound === undefined) return node.complete;
    return completePlans(this.#relaxation, node, this.#incumbent.limit - bound);
  }

  /** A better mix known leaves fewer plans to be written out. */
  async #try(node: Node): Promise<readonly Node[]> {
    const { plans, nodes } = TRIALS[node.tried++] ?? TRIALS[0];
    const few = { ...node, alive: nearest(this.#relaxation, node.alive, plans) };
    const { store } = this.#relaxation;
    const chosen = await choosePlans(store, few, this.#incumbent.limit, this.#control, nodes);
    if ('plan' in chosen) this.#incumbent.take(new Assignment(store, chosen.plan));
    return [node];
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
    return mix.status === 'stopped' ? stopped(mix.stoppedBy) : [];
  }
}

/** Where time ended it, the part stays open; where numbers did, the search cannot go on. */
function stopped(by: 'time' | 'numbers' | 'cutting'): undefined {
  if (by !== 'time') throw new BeyondSolver('the numbers of a part of the search are beyond the solver');
}
