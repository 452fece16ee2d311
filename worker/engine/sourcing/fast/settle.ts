import { UNUSED, isSettled } from './allowed.ts';
import type { Relaxation } from './dual.ts';
import { addLongerPlans } from './morePlans.ts';
import type { Node } from './node.ts';
import type { Alive } from './planStore.ts';
import { bandCredit, bandValue } from './sellerSide.ts';

/** Rounds of looking for plans of three sellers and more: they come one a block and round. */
const MOST_ROUNDS = 50;

/**
 * Makes a node's bound true for all plans, those of three sellers and more too; the last look is at its prices then.
 * Returns what that look came to, Infinity where nothing can be bought so; undefined where longer plans came in without end.
 */
export function certify(relaxation: Relaxation, node: Node): number | undefined {
  let bound = relaxation.at(node);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (bound !== Infinity && bound <= node.bound) return undefined;
    if (node.complete || !addLongerPlans(relaxation, node)) {
      node.bound = Math.max(node.bound, bound);
      return bound;
    }
    bound = relaxation.at(node);
  }
  return undefined;
}

/**
 * Certifies a node's bound, and leaves out what no mix of less than the limit can have: plans, bands, sellers. Returns
 * false where nothing is left.
 */
export function settle(relaxation: Relaxation, node: Node, limit: number): boolean {
  const bound = certify(relaxation, node);
  if (node.bound >= limit) return false;
  if (bound === undefined) return true;
  node.alive = within(relaxation, node.alive, limit - bound);
  return leaveOut(relaxation, node, limit - bound);
}

/** Of all plans about so many: those that cost their blocks least more than their cheapest, at the last look's prices. */
export function nearest(relaxation: Relaxation, { start, ids }: Alive, count: number): Alive {
  const more = (block: number, at: number) => relaxation.priceOf(ids[at]!) - relaxation.look.price[block]!;
  const all: number[] = [];
  for (let block = 0; block < start.length - 1; block++)
    for (let at = start[block]!; at < start[block + 1]!; at++) all.push(more(block, at));
  const limit = all.sort((a, b) => a - b)[Math.min(count, all.length) - 1] ?? 0;
  const kept: number[] = [];
  const starts = new Int32Array(start.length);
  for (let block = 0; block < start.length - 1; block++) {
    for (let at = start[block]!; at < start[block + 1]!; at++)
      if (more(block, at) <= limit) kept.push(ids[at]!);
    starts[block + 1] = kept.length;
  }
  return { start: starts, ids: Int32Array.from(kept) };
}

function within(relaxation: Relaxation, { start, ids }: Alive, more: number): Alive {
  const { look, slope, fixed, store } = relaxation;
  const { firstLink, firstValue, secondLink, secondValue } = store;
  const kept = new Int32Array(ids.length);
  const starts = new Int32Array(start.length);
  let count = 0;
  for (let block = 0; block < start.length - 1; block++) {
    const limit = look.price[block]! + more;
    for (let at = start[block]!; at < start[block + 1]!; at++) {
      const id = ids[at]!;
      const one = firstLink[id]!;
      const other = secondLink[id]!;
      let cost = slope[one]! * firstValue[id]! + fixed[one]!;
      if (other >= 0) cost += slope[other]! * secondValue[id]! + fixed[other]!;
      if (cost <= limit) kept[count++] = id;
    }
    starts[block + 1] = count;
  }
  return { start: starts, ids: kept.slice(0, count) };
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

function narrow(network: Relaxation['network'], node: Node, s: number, next: number): void {
  const { toll, credit } = node.dual;
  node.allowed[s] = next;
  if (!isSettled(next)) return;
  if (next !== UNUSED) credit[s] = bandCredit(network, s, 31 - Math.clz32(next), toll);
  for (const link of network.linksOfSeller[s]!) toll[link] = 0;
}
