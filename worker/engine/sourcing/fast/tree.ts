import TinyQueue from 'tinyqueue';
import { Cancelled, type Control } from '../../model/control.ts';
import type { Problem } from '../problem/problem.ts';
import { isSettled } from './allowed.ts';
import { blocksOf } from './blocks.ts';
import { Relaxation } from './dual.ts';
import { Incumbent, type SearchOptions } from './incumbent.ts';
import { networkOf } from './network.ts';
import { bandPlaces, childOf, Climber, rootNode, type Node } from './node.ts';
import { PlanStore, plansOfTwo } from './planStore.ts';
import { sellersOf } from './sellers.ts';
import { certify, settle } from './settle.ts';
import { SettledNodes } from './settled.ts';
import { splitsOf } from './splits.ts';

/** How a search ended. */
export interface Searched {
  plan: Incumbent['plan'];
  /** No mix costs less; minor units, as near as floating point goes. */
  bound: number;
  /** Whether it came to its end: no mix is cheaper than the plan, or none costs less than was asked. */
  ended: boolean;
}

const ROOT_CHUNKS = 60;
const ROOT_LOOKS = 20;
/** A better mix is looked for after each of the first so many, and then at every such number. */
const ROUNDS = 4;
/** Rises of the bound by less than this share of what is left end the first climb. */
const ROOT_RISE = 0.03;
const ROOT_FLAT = 2;
const ROOT_STEP = 0.02;
/** At each node so many splits are tried, each by so many looks; the best of them is climbed with so many more. */
const TRIED = 4;
const TRIAL_LOOKS = 6;
const NODE_LOOKS = 30;
/** Looking for a better mix at every so many nodes. */
const ROUND_EVERY = 8;
const TELL_EVERY = 8;
/** A dive goes on while its bound lies within this share of the gap over the lowest. */
const DIVE = 0.1;
const FIRST_SHARE = 1;
const NODE_SHARE = 0.3;

/**
 * The cheapest mix by a search over what each supplier's parcel may be: unused, or in one of its delivery bands. Bounds come
 * from a relaxation in which needs and suppliers choose for themselves at prices between them; where all suppliers are
 * settled, what is left is put to the solver. Undefined where needs do not stand by themselves, or where some cannot be met.
 * Throws Cancelled.
 */
export async function searchTree(
  problem: Problem,
  control: Control,
  options: SearchOptions,
): Promise<Searched | undefined> {
  const sellers = sellersOf(problem);
  const blocks = sellers && blocksOf(problem);
  if (!blocks) return undefined;
  return new Search(problem, new PlanStore(networkOf(blocks, sellers)), control, options).run();
}

class Search {
  readonly #control: Control;
  readonly #relaxation: Relaxation;
  readonly #climber: Climber;
  readonly #incumbent: Incumbent;
  readonly #settled: SettledNodes;
  readonly #places: Int32Array;
  readonly #root: Node;
  readonly #queue = new TinyQueue<Node>([], (a, b) => a.bound - b.bound);
  /** The node that the search goes on with, where it dives. */
  #next: Node | undefined;
  #nodes = 0;

  constructor(problem: Problem, store: PlanStore, control: Control, options: SearchOptions) {
    const atMost = problem.atMostSuppliers ?? Infinity;
    this.#control = control;
    this.#root = rootNode(store.network, plansOfTwo(store), new Set(problem.insistOn));
    this.#relaxation = new Relaxation(store, atMost);
    this.#climber = new Climber(this.#relaxation);
    this.#incumbent = new Incumbent(problem, this.#relaxation, options);
    this.#settled = new SettledNodes(problem, this.#relaxation, this.#climber, this.#incumbent, control);
    this.#places = bandPlaces(store.network);
  }

  async run(): Promise<Searched | undefined> {
    if (!this.#begin()) return undefined;
    let ended = true;
    for (;;) {
      const node = this.#next ?? this.#queue.pop();
      this.#next = undefined;
      if (!node) break;
      this.#stopIfCancelled();
      if (node.bound >= this.#incumbent.limit) continue;
      const goesOn = this.#control.remainingMs() > 0 && (await this.#work(node));
      if (goesOn) continue;
      this.#queue.push(node);
      ended = false;
      break;
    }
    const bound = this.#lowest();
    return { plan: this.#incumbent.plan, bound, ended };
  }

  #stopIfCancelled(): void {
    if (this.#control.cancelled()) throw new Cancelled();
  }

  /** Climbs at the root, and looks for mixes on the way; false where needs cannot all be met. */
  #begin(): boolean {
    const [root, incumbent] = [this.#root, this.#incumbent];
    if (certify(this.#relaxation, root) === Infinity) return false;
    incumbent.tell(root.bound);
    incumbent.round(root);
    incumbent.aimAt(Math.max(0, root.bound));
    let share = FIRST_SHARE;
    let flat = 0;
    for (let chunk = 0; chunk < ROOT_CHUNKS && flat < ROOT_FLAT; chunk++) {
      this.#stopIfCancelled();
      if (this.#control.remainingMs() <= 0) break;
      const before = root.bound;
      share = Math.max(ROOT_STEP, this.#climb(root, ROOT_LOOKS, share));
      if (!settle(this.#relaxation, root, incumbent.limit)) return true;
      incumbent.tell(root.bound);
      if (chunk < ROUNDS || chunk % ROUNDS === 0) incumbent.round(root);
      flat = root.bound - before < ROOT_RISE * (incumbent.limit - root.bound) ? flat + 1 : 0;
    }
    this.#queue.push(root);
    return true;
  }

  #climb(node: Node, looks: number, share: number): number {
    const { limit, target } = this.#incumbent;
    return this.#climber.climb(node, { looks, share, goal: limit, target });
  }

  /** Parts a node or finds what is best in it; false where that stopped before its end. */
  async #work(node: Node): Promise<boolean> {
    this.#nodes++;
    if (this.#nodes % TELL_EVERY === 0) this.#incumbent.tell(Math.min(node.bound, this.#lowest()));
    if (node.allowed.every(isSettled)) {
      const further = await this.#settled.work(node);
      for (const kid of further ?? []) this.#queue.push(kid);
      return further !== undefined;
    }
    const open = this.#kidsOf(node).filter((kid) => this.#isOpen(kid));
    open.sort((a, b) => a.bound - b.bound);
    const [first, ...others] = open;
    for (const kid of others) this.#queue.push(kid);
    if (!first) return true;
    const lowest = this.#queue.peek()?.bound ?? Infinity;
    if (first.bound <= lowest + DIVE * (this.#incumbent.limit - lowest)) this.#next = first;
    else this.#queue.push(first);
    return true;
  }

  /** The two parts of a node by the split that, tried for a little, raises the bound most. */
  #kidsOf(node: Node): readonly Node[] {
    const { network } = this.#relaxation;
    const splits = splitsOf(network, node, this.#places).slice(0, TRIED);
    const { limit } = this.#incumbent;
    let best: readonly Node[] = [];
    let most = -1;
    for (const { seller, parts } of splits) {
      const kids = parts.map((state) => childOf(network, node, seller, state));
      if (splits.length === 1) return kids;
      const gains = kids.map((kid) => {
        this.#climb(kid, TRIAL_LOOKS, NODE_SHARE);
        return Math.max(0, Math.min(this.#relaxation.at(kid), limit) - node.bound);
      });
      const score = Math.max(Math.min(...gains), 0.5) * Math.max(Math.max(...gains), 0.5);
      if (score <= most) continue;
      most = score;
      best = kids;
    }
    return best;
  }

  #isOpen(kid: Node): boolean {
    const { limit } = this.#incumbent;
    this.#climb(kid, NODE_LOOKS, NODE_SHARE);
    if (kid.allowed.every(isSettled)) this.#climber.polish(kid);
    if (!settle(this.#relaxation, kid, limit)) return false;
    if (this.#nodes % ROUND_EVERY === 1) this.#incumbent.round(kid);
    return kid.bound < this.#incumbent.limit;
  }

  /** What no mix goes below, as far as is known. */
  #lowest(): number {
    const open = Math.min(this.#next?.bound ?? Infinity, this.#queue.peek()?.bound ?? Infinity);
    return Math.min(open, this.#incumbent.limit);
  }
}
