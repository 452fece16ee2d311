import TinyQueue from 'tinyqueue';
import type { Control } from '../../model/control.ts';
import { NOTHING_LEFT } from '../model/aims.ts';
import { startingKnowledge, type Knowledge } from '../model/counted.ts';
import { bestMix } from '../model/mix.ts';
import { BeyondSolver } from '../../solver/milp.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { Assignment } from './assignment.ts';
import { boundAt } from './bound.ts';
import { branchesOf } from './branches.ts';
import { Certifier, type Closing } from './certificate.ts';
import { completePlans, sizeOf, type Completed } from './complete.ts';
import type { Bought } from './cutBlock.ts';
import { forcedMore } from './forced.ts';
import { Incumbent, type SearchOptions } from './incumbent.ts';
import { cutLeaf, isByUnits, solvePlans, type Leaf, type LeafOf } from './leaf.ts';
import type { Master, Relaxed } from './master.ts';
import type { Network } from './network.ts';
import type { Node, Worked } from './node.ts';
import type { Ground } from './prices.ts';
import { plunged } from './plunge.ts';
import { planOf } from './realise.ts';
import { Relaxation } from './relaxation.ts';
import { rounded } from './rounding.ts';
import { isSettled, mostSent } from './settled.ts';
import { restrictedTo } from './restrictedTo.ts';
import { withinRoom } from './withinRoom.ts';

/** How a search ended. */
export interface Searched {
  plan: Plan | undefined;
  /** No mix costs less; minor units, as near as floating point goes. */
  bound: number;
  /** Whether it came to its end: no mix is cheaper than the plan, or none costs less than was asked. */
  ended: boolean;
  /** Where it did not, as the numbers are beyond the solver. */
  isBeyond?: true;
  /** Where a plan was proven cheapest: the problem with the choices alone that a mix of this cost can have. */
  tied?: Problem;
}

/** Plans are put to the solver where they are so many at the most; else a node is parted. */
const MOST_AT_ONCE = 1_500;
/** A better mix is looked for among plans within so much of the gap, by so many nodes of the solver's. */
const NEAR = 0.05;
const FEW_NODES = 3;
/** By so many nodes of the solver's a node that is not decided is worked; else it is parted. */
const LEAF_NODES = 100;
const MOST_TRIAL_ROUNDS = 2;
/** Parcels are tried by force while so many are undecided at the most. */
const MOST_PROBED = 400;

/** What is searched; `master`: of the network, and held to its terms. */
export interface SearchOf {
  problem: Problem;
  network: Network;
  /** Of what is cut by counts and is bought by units, as far as it was asked. */
  knowledge: Knowledge;
  master: Master;
  control: Control;
  options: SearchOptions;
}

/** One search: what is known of the problem, and the parts of it that are still to be worked. */
export class Search {
  readonly #problem: Problem;
  readonly #network: Network;
  readonly #master: Master;
  readonly #control: Control;
  readonly #relaxation: Relaxation;
  readonly #incumbent: Incumbent;
  readonly #certifier: Certifier;
  readonly #queue = new TinyQueue<Node>([], (a, b) => a.bound - b.bound);

  readonly #knowledge: Knowledge;
  /** What is allowed from the first. */
  readonly #ground: Ground;
  /** Whether mixes of the same cost are of interest afterwards. */
  readonly #isTied: boolean;
  #nodes = 0;
  /** The first node with the multipliers that gave its bound. */
  #root: Worked | undefined;

  constructor({ problem, network, knowledge, master, control, options }: SearchOf, ground: Ground) {
    this.#problem = problem;
    this.#knowledge = knowledge;
    this.#isTied = options.ties === true;
    this.#network = network;
    this.#master = master;
    this.#control = control;
    this.#ground = ground;
    this.#relaxation = new Relaxation(network, master, control);
    this.#incumbent = new Incumbent(problem, options);
    this.#certifier = new Certifier(network, options.onCertificate);
  }

  /** Throws Cancelled. */
  async run(): Promise<Searched> {
    this.#queue.push({ ground: this.#ground, bound: -Infinity });
    for (;;) {
      const node = this.#queue.pop();
      if (!node || node.bound >= this.#incumbent.limit) {
        for (const one of node ? [node, ...this.#queue.data] : []) this.#close(one);
        return this.#ended(true, this.#incumbent.limit);
      }
      const kids = await this.#work(node).catch(beyond);
      if (!kids || kids === 'beyond')
        return {
          ...this.#ended(false, Math.min(node.bound, this.#lowest())),
          ...(kids ? { isBeyond: true as const } : {}),
        };
      for (const kid of kids) this.#queue.push(kid);
      this.#incumbent.tell(this.#lowest());
    }
  }

  #ended(ended: boolean, bound: number): Searched {
    const { plan } = this.#incumbent;
    const tied = ended && this.#isTied && plan && this.#root ? this.#tied(plan, this.#root) : undefined;
    return { plan, bound, ended, ...(tied ? { tied } : {}) };
  }

  /** Reduced-cost fixing and probing at the least cost: what raises the bound over it is in no mix of that cost. */
  #tied(plan: Plan, root: Worked): Problem {
    this.#incumbent.isTying = true;
    const probed = this.#probe(root);
    const { multipliers, at, ground } = probed === undefined || probed === 'closed' ? root : probed;
    const now = boundAt(this.#network, multipliers, ground);
    const better = now.value > at.value ? now : at;
    const more = forcedMore(this.#problem, this.#network, multipliers, ground, better);
    const room = this.#incumbent.limit - better.value;
    const keep = (choice: number) => more[choice]! <= room || plan.units[choice]! > 0;
    return restrictedTo(this.#problem, this.#network, ground, keep);
  }

  /** What no mix goes below, as far as is known. */
  #lowest(): number {
    return Math.min(this.#queue.peek()?.bound ?? Infinity, this.#incumbent.limit);
  }

  /** What is left to be worked of a node; undefined where time ended first. */
  async #work(node: Node): Promise<Node[] | 'beyond' | undefined> {
    const relaxed = this.#relax(node, true);
    if (relaxed === 'closed') return [];
    if (!relaxed) return undefined;
    this.#root ??= relaxed;
    // What is known of it where time ends before it is worked.
    node.bound = relaxed.bound;
    node.by = relaxed.by;
    const parts = plunged(this.#network, relaxed, (part) => this.#relax(part, true));
    if (!parts) return undefined;
    const { worked, rest } = parts;
    if (worked === 'closed') return rest;
    if (worked.bound >= this.#incumbent.limit) {
      this.#close(worked);
      return rest;
    }
    const kids = await this.#workDown(worked);
    return Array.isArray(kids) ? [...rest, ...kids] : kids;
  }

  async #workDown(worked: Worked): Promise<Node[] | 'beyond' | undefined> {
    // A dive costs as much as a node: of the later ones fewer and fewer look for a better mix.
    const isDiving = Number.isInteger(Math.log2(++this.#nodes));
    if (isDiving) await this.#dive(worked);
    // Without any mix no bound closes anything: whether there is one the whole-number model says soonest.
    if (this.#incumbent.limit === Infinity) return this.#kidsOf(await this.#direct(worked), worked);
    const probed = this.#probe(worked);
    if (probed === 'closed') return [];
    if (!probed) return undefined;
    if (isDiving) await this.#dive(probed);
    return this.#kidsOf(await this.#leaf(probed), probed);
  }

  #kidsOf(done: 'closed' | 'open' | 'beyond' | undefined, node: Worked): Node[] | 'beyond' | undefined {
    if (done === 'open') return branchesOf(this.#network, node);
    return done === 'closed' ? [] : done;
  }

  /** Writes out what the bound of a node closes. */
  #close({ by, bound }: Node, closes: Closing = { what: 'node' }): void {
    this.#certifier.closed(closes, by, bound, this.#incumbent.limit);
  }

  /** The relaxation within a node; whatever reaches the limit closes it. Undefined where time ended it. */
  #relax(node: Node, whole: boolean, mostRounds?: number, closes?: Closing): Worked | 'closed' | undefined {
    const most = mostRounds ?? (whole ? undefined : MOST_TRIAL_ROUNDS + 1);
    const worked = this.#relaxation.of(node, {
      limit: () => this.#incumbent.limit,
      ...(most === undefined ? {} : { mostRounds: most }),
      onRelaxed: (relaxed, round, isLast) => {
        if (whole && (round % 4 === 0 || (isLast && relaxed.isReal))) this.#round(relaxed, node.ground);
      },
    });
    if (!worked || !('closedBy' in worked)) return worked;
    this.#close(worked.closedBy, closes);
    return 'closed';
  }

  /** Looks for a mix near what the relaxation uses. */
  #round(relaxed: Relaxed, ground: Ground): void {
    const found = rounded(this.#network, this.#master.plans, relaxed, ground);
    if (found && found.assignment.cost < this.#incumbent.best) this.#take(found.assignment, found.options);
  }

  #take(
    assignment: Assignment,
    options: readonly number[],
    bought: readonly Bought[] = [],
  ): Plan | undefined {
    const plan = planOf(this.#problem, assignment, options, bought);
    if (!plan || plan.unmet.length > 0) return undefined;
    this.#incumbent.offer(plan);
    return plan;
  }

  /** The mix that a whole-number model has found, offered; undefined where it cannot be ordered. */
  #takeLeaf({ plans, options, bought, shared }: Extract<Leaf, { plans: unknown }>): Plan | undefined {
    const assignment = new Assignment(this.#network, plans);
    shared.forEach((units, at) => {
      if (units > 0) assignment.buyAtLeast(at, units);
    });
    return this.#take(assignment, options, bought);
  }

  #withinRoom(worked: Worked): Ground | undefined {
    const { limit } = this.#incumbent;
    return withinRoom(this.#network, worked, limit, (supplier, parcel, ground, bound) => {
      const { multipliers } = worked;
      this.#certifier.closed(
        this.#certifier.closingOf(supplier, parcel),
        { ground, multipliers },
        bound,
        limit,
      );
    });
  }

  /** Tries parcels by force: what raises the bound over the limit is left out. */
  #probe(worked: Worked): Worked | 'closed' | undefined {
    let now = worked;
    for (let pass = 0; pass < 2; pass++) {
      const ground = this.#withinRoom(now);
      if (!ground) return 'closed';
      const tried = this.#probeAll({ ...now, ground });
      if (tried === undefined) return undefined;
      if (tried === 'closed') return 'closed';
      const next = this.#relax({ ground: tried.ground, bound: now.bound, by: now.by }, true);
      if (next === 'closed' || !next) return next;
      now = next;
      if (tried.closed === 0) break;
    }
    const ground = this.#withinRoom(now);
    return ground ? { ...now, ground } : 'closed';
  }

  #probeAll({ ground, bound, by, sent }: Worked): { ground: Ground; closed: number } | 'closed' | undefined {
    const { parcels, codes } = this.#network;
    const now: Ground = { ...ground, open: ground.open.slice(), must: ground.must.slice() };
    let closed = 0;
    const raises = (trial: Ground, supplier: number, k?: number): boolean | undefined => {
      const closes = this.#certifier.closingOf(supplier, k);
      const found = this.#relax({ ground: trial, bound, by }, false, undefined, closes);
      return found === undefined ? undefined : found === 'closed';
    };
    const undecided = parcels.list
      .map(({ supplier }, k) => ({ k, supplier, sent: sent[k]! }))
      .filter(({ k, supplier }) => now.open[k] === 1 && !isSettled(parcels.of[supplier]!, now, supplier))
      .sort((a, b) => a.sent - b.sent);
    if (undecided.length > MOST_PROBED) return { ground: now, closed };
    for (const { k, supplier, sent: share } of undecided) {
      if (now.open[k] === 0) continue;
      if (share < 0.5) {
        const trial: Ground = { ...now, open: now.open.slice(), must: now.must.slice() };
        for (const other of parcels.of[supplier]!) if (other !== k) trial.open[other] = 0;
        trial.must[supplier] = 1;
        const is = raises(trial, supplier, k);
        if (is === undefined) return undefined;
        if (is) {
          now.open[k] = 0;
          closed++;
          if (now.must[supplier] === 1 && parcels.of[supplier]!.every((other) => now.open[other] === 0))
            return 'closed';
        }
      }
    }
    for (const [supplier] of codes.entries()) {
      const own = parcels.of[supplier]!;
      if (own.length === 0 || now.must[supplier] === 1 || !own.some((k) => now.open[k] === 1)) continue;
      if (own.reduce((sum, k) => sum + sent[k]!, 0) < 0.5) continue;
      const trial: Ground = { ...now, open: now.open.slice(), must: now.must.slice() };
      for (const k of own) trial.open[k] = 0;
      const is = raises(trial, supplier);
      if (is === undefined) return undefined;
      if (is) {
        now.must[supplier] = 1;
        closed++;
      }
    }
    return { ground: now, closed };
  }

  /**
   * Dives for a better mix: decides for the supplier, or its parcel, that the relaxation sends most of, and relaxes anew, until
   * all are decided.
   */
  async #dive({ ground, sent }: Worked): Promise<void> {
    const { parcels } = this.#network;
    const now: Ground = { ...ground, open: ground.open.slice(), must: ground.must.slice() };
    let share = sent;
    for (let step = 0; step <= parcels.list.length; step++) {
      const next = mostSent(this.#network, now, share);
      if (!next) return this.#settle(now);
      const { k, supplier, isUsed } = next;
      if (isUsed) {
        now.must[supplier] = 1;
        for (const other of parcels.of[supplier]!) if (other !== k) now.open[other] = 0;
      } else now.open[k] = 0;
      this.#relaxation.hold(now);
      const relaxed = this.#master.solve('dual', this.#control);
      if (!relaxed || relaxed === 'infeasible') return;
      if (relaxed.objective >= this.#incumbent.limit) return;
      const at = boundAt(this.#network, relaxed.multipliers, now);
      this.#master.addFrom(at, relaxed, now);
      this.#round(relaxed, now);
      share = relaxed.sent;
    }
  }

  /** The best mix where all parcels are decided. */
  async #settle(ground: Ground): Promise<void> {
    const worked = this.#relax({ ground, bound: -Infinity }, true);
    if (!worked || worked === 'closed') return;
    await this.#nearest(worked);
  }

  /**
   * The whole-number model of a node; what is bought by units, with the choices alone that a cheaper mix can have. `more`: how
   * much more mixes with each choice cost, where anything is bought so.
   */
  async #leafOf(
    { ground, multipliers, at }: Pick<Worked, 'ground' | 'multipliers' | 'at'>,
    plans: Completed,
    real: ReadonlySet<number> = new Set(),
  ): Promise<LeafOf & { more: Float64Array | undefined }> {
    const [problem, network, knowledge] = [this.#problem, this.#network, this.#knowledge];
    const { limit } = this.#incumbent;
    const isBought = (requirement: number) => isByUnits({ problem, network, plans, real }, requirement);
    const more = network.requirements.some((_, requirement) => isBought(requirement))
      ? forcedMore(problem, network, multipliers, ground, at)
      : undefined;
    const keep = (choice: number) => more === undefined || more[choice]! <= limit - at.value;
    const fresh = (requirement: number) => isBought(requirement) && !knowledge.has(requirement);
    for (const [requirement, known] of await startingKnowledge(problem, this.#control, fresh))
      knowledge.set(requirement, known);
    return { problem, network, rows: this.#master.rows, plans, ground, keep, knowledge, limit, real, more };
  }

  /** A model solved until all pieces come out of what it buys. */
  async #solved(of: LeafOf, mostNodes?: number): Promise<Leaf | 'unknown'> {
    for (;;) {
      const leaf = await solvePlans(of, this.#control, mostNodes);
      if (!('plans' in leaf)) return leaf;
      const bought = await cutLeaf(of, leaf, this.#control);
      if (bought === 'unknown') return bought;
      if (bought !== 'refused') return { ...leaf, bought };
    }
  }

  /** A better mix of the plans that are nearest to the relaxation. */
  async #nearest({ ground, multipliers, at }: Worked): Promise<void> {
    const { limit } = this.#incumbent;
    const room = Number.isFinite(limit) ? (limit - at.value) * NEAR : limit;
    const plans = completePlans(this.#network, multipliers, ground, at, room);
    const of = await this.#leafOf({ ground, multipliers, at }, plans);
    const leaf = await this.#solved(of, FEW_NODES);
    if (leaf !== 'unknown' && 'plans' in leaf) this.#takeLeaf(leaf);
  }

  /** Puts what is left of a node to the solver, where that is not too much. */
  async #leaf(worked: Worked): Promise<'closed' | 'open' | 'beyond' | undefined> {
    const { ground, multipliers } = worked;
    const at = boundAt(this.#network, multipliers, ground);
    const { limit } = this.#incumbent;
    if (at.value >= limit) {
      this.#close({ ground, bound: at.value, by: { ground, multipliers } });
      return 'closed';
    }
    const { parcels } = this.#network;
    const isDecided = parcels.of.every((own, supplier) => isSettled(own, ground, supplier));
    const plans = completePlans(this.#network, multipliers, ground, at, limit - at.value);
    const isLarge = sizeOf(this.#network, plans) > MOST_AT_ONCE;
    if (!isDecided && isLarge) return 'open';
    this.#certifier.plans(
      { ground, multipliers },
      at,
      limit,
      (requirement) => plans[requirement] === 'units',
    );
    return this.#solveLeaf({ ...worked, at }, plans, isDecided ? undefined : LEAF_NODES);
  }

  /**
   * The best mix of a node's plans. Goods are made up to lower limits by money first; of suppliers where what is bought for it
   * costs more than that, by what they sell.
   */
  async #solveLeaf(
    node: Pick<Worked, 'ground' | 'multipliers' | 'at'>,
    plans: Completed,
    mostNodes: number | undefined,
  ): Promise<'closed' | 'open' | 'beyond' | undefined> {
    const real = new Set<number>();
    for (;;) {
      const { more, ...of } = await this.#leafOf(node, plans, real);
      if (more) this.#certifier.choices(node, node.at, of.limit, more);
      const leaf = await this.#solved(of, mostNodes);
      // What the cutting cannot tell yet the direct model asks again.
      if (leaf === 'unknown') return this.#direct(node);
      if (leaf.status === 'none') return 'closed';
      const plan = 'plans' in leaf ? this.#takeLeaf(leaf) : undefined;
      if (leaf.status !== 'solved') {
        if (leaf.status === 'stopped' && leaf.by === 'numbers') return 'beyond';
        return mostNodes !== undefined && this.#control.remainingMs() > 0 ? 'open' : undefined;
      }
      const isReached = plan && this.#incumbent.minorOf(plan) - leaf.bound < 2 * this.#incumbent.tolerance;
      if (isReached || leaf.bound >= this.#incumbent.limit) return 'closed';
      if (leaf.padded.length === 0) return this.#direct(node);
      for (const supplier of leaf.padded) real.add(supplier);
    }
  }

  /** Where orders cannot be made up to their limits by just what is missing, the whole-number model says what is best. */
  async #direct({
    ground,
    multipliers,
    at,
  }: Pick<Worked, 'ground' | 'multipliers' | 'at'>): Promise<'closed' | 'beyond' | undefined> {
    const more = forcedMore(this.#problem, this.#network, multipliers, ground, at);
    const room = this.#incumbent.limit - at.value;
    this.#certifier.choices({ ground, multipliers }, at, this.#incumbent.limit, more);
    const rest = restrictedTo(this.#problem, this.#network, ground, (choice) => more[choice]! <= room);
    const knowledge = await startingKnowledge(rest, this.#control);
    const mix = await bestMix(rest, { least: 'cost', left: NOTHING_LEFT }, knowledge, this.#control);
    if (mix.status === 'infeasible') return 'closed';
    if (mix.plan) this.#incumbent.offer(mix.plan);
    if (mix.status === 'optimal') return 'closed';
    return mix.stoppedBy === 'numbers' ? 'beyond' : undefined;
  }
}

function beyond(error: unknown): 'beyond' {
  if (!(error instanceof BeyondSolver)) throw error;
  return 'beyond';
}
