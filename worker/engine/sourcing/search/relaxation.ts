import type { Control } from '../../model/control.ts';
import { GAP_NEAR_ENOUGH } from '../../solver/tolerances.ts';
import { boundAt } from './bound.ts';
import type { Master, Relaxed } from './master.ts';
import type { Network } from './network.ts';
import type { Node, Worked } from './node.ts';
import type { Ground } from './prices.ts';

const MOST_ROUNDS = 200;

interface Relaxing {
  /** What costs this or more is of no interest; it may fall while the relaxation is worked. */
  limit: () => number;
  mostRounds?: number;
  /** Told what the master model says each time; whether no more columns are of use. */
  onRelaxed?: (relaxed: Relaxed, round: number, isLast: boolean) => void;
}

/** The relaxation of a node by column generation, on a master model that keeps the columns that were found for others. */
export class Relaxation {
  readonly #network: Network;
  readonly #master: Master;
  readonly #control: Control;

  constructor(network: Network, master: Master, control: Control) {
    this.#network = network;
    this.#master = master;
    this.#control = control;
  }

  /** Holds the master model to what a ground allows. */
  hold({ open, must, shared }: Ground): void {
    open.forEach((is, k) => this.#master.limitParcel(k, 0, is));
    must.forEach((is, supplier) => this.#master.limitSupplier(supplier, is === 1));
    this.#network.shared.forEach((_, at) =>
      this.#master.limitShared(at, shared?.least[at] ?? 0, shared?.most[at] ?? Infinity),
    );
  }

  /** The node's bound and the multipliers that give it; closed by what reaches the limit. Undefined where time ended it. */
  of(
    node: Node,
    { limit, mostRounds = MOST_ROUNDS, onRelaxed }: Relaxing,
  ): Worked | { closedBy: Node } | undefined {
    this.hold(node.ground);
    let worked: Worked | undefined;
    let by: 'dual' | 'primal' = 'dual';
    for (let round = 0; round < mostRounds; round++) {
      const relaxed: Relaxed | 'infeasible' | undefined = this.#master.solve(by, this.#control);
      if (!relaxed) return undefined;
      if (relaxed === 'infeasible') return this.#empty(node);
      by = 'primal';
      const at = boundAt(this.#network, relaxed.multipliers, node.ground);
      if (!worked || at.value > worked.at.value)
        worked = {
          ground: node.ground,
          bound: Math.max(node.bound, at.value),
          by: at.value > node.bound ? { ground: node.ground, multipliers: relaxed.multipliers } : node.by,
          multipliers: relaxed.multipliers,
          at,
          sent: relaxed.sent,
          shared: relaxed.shared,
        };
      if (worked.bound >= limit()) return { closedBy: worked };
      const found = this.#master.addFrom(at, relaxed, node.ground);
      onRelaxed?.(relaxed, round, found === 0);
      if (found === 0 && !relaxed.isReal) {
        // All plans are known, and yet something is met out of nothing.
        if (this.#master.raisePenalty()) continue;
        break;
      }
      if (found === 0) {
        worked.sent = relaxed.sent;
        worked.shared = relaxed.shared;
        break;
      }
      const gap = Math.min(limit(), relaxed.objective) - worked.bound;
      if (relaxed.isReal && relaxed.objective - worked.bound < GAP_NEAR_ENOUGH * gap) break;
    }
    return worked;
  }

  /** Without columns enough for the node there may be some that are not known yet. */
  #empty(node: Node): { closedBy: Node } | undefined {
    const { multipliers } = this.#master.rows.multipliers(new Float64Array(this.#master.rows.limits.length));
    const at = boundAt(this.#network, multipliers, node.ground);
    if (at.value < Infinity) return undefined;
    return { closedBy: { ground: node.ground, bound: at.value, by: { ground: node.ground, multipliers } } };
  }
}
