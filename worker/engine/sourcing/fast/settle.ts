import { UNUSED, isSettled } from './allowed.ts';
import type { Relaxation } from './dual.ts';
import { addLongerPlans } from './morePlans.ts';
import { narrow, type Node } from './node.ts';
import { kept, type Alive } from './planStore.ts';
import { bandCredit, bandValue } from './sellerSide.ts';

/** Rounds of looking for plans of three sellers and more: they come one a block and round. */
const MOST_ROUNDS = 50;

/**
 * Makes a look at a node true for all plans, those of three sellers and more too, and raises the node's bound to it; the
 * last look is at its prices then. Returns what it came to, Infinity where nothing can be bought so; undefined where longer
 * plans came in without end.
 */
export function certify(relaxation: Relaxation, node: Node): number | undefined {
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const bound = relaxation.at(node);
    if (!node.complete && addLongerPlans(relaxation, node)) continue;
    node.bound = Math.max(node.bound, bound);
    return bound;
  }
  return undefined;
}

/**
 * Certifies a node's bound, and leaves out what no mix of less than the limit can have: plans, bands, sellers. Returns
 * false where nothing is left.
 */
export function settle(relaxation: Relaxation, node: Node, limit: number): boolean {
  // No better than what is known already: not worth making true.
  if (relaxation.at(node) <= node.bound) return node.bound < limit;
  const bound = certify(relaxation, node);
  if (node.bound >= limit) return false;
  if (bound === undefined) return true;
  const more = limit - bound;
  const { price } = relaxation.look;
  node.alive = kept(node.alive, (id, block) => relaxation.priceOf(id) <= price[block]! + more);
  return leaveOut(relaxation, node, more);
}

/**
 * Of all plans about so many: those that cost their blocks least more than their cheapest, at the last look's prices; and
 * any that are kept all the same.
 */
export function nearest(
  relaxation: Relaxation,
  alive: Alive,
  count: number,
  isKept: (id: number) => boolean = () => false,
): Alive {
  const { start, ids } = alive;
  if (ids.length <= count) return alive;
  const more = new Float64Array(ids.length);
  relaxation.look.price.forEach((price, block) => {
    for (let at = start[block]!; at < start[block + 1]!; at++)
      more[at] = relaxation.priceOf(ids[at]!) - price;
  });
  const limit = more.slice().sort()[count - 1]!;
  let next = 0;
  return kept(alive, (id) => more[next++]! <= limit || isKept(id));
}

/** Bands, and being used at all or not, at which the bound rises over the limit. */
function leaveOut({ network, look, atMost }: Relaxation, node: Node, more: number): boolean {
  if (atMost !== Infinity) return true;
  const { toll } = node.dual;
  for (let s = 0; s < network.sellers.length; s++) {
    const state = node.allowed[s]!;
    if (isSettled(state)) continue;
    const now = look.parcel[s]!;
    let next = state;
    if (state & UNUSED && -now > more) next &= ~UNUSED;
    for (let b = 0; b < network.sellers[s]!.bands.length; b++)
      if (state & (1 << b) && bandValue(network, s, b, bandCredit(network, s, b, toll), toll) - now > more)
        next &= ~(1 << b);
    if (next === 0) return false;
    if (next !== state) narrow(network, node, s, next);
  }
  return true;
}
