import { Assignment } from './assignment.ts';
import type { Alive, PlanStore } from './planStore.ts';

const LEAST_GAIN = 1e-6;
const MOST_ROUNDS = 20;

/** Where a descent may go. */
export interface Ground {
  store: PlanStore;
  /** Plans to choose from. */
  alive: Alive;
  /** By seller: 1 where nothing is bought. */
  closed: Uint8Array;
  /** At most so many sellers other than the own shelf. */
  atMost: number;
}

/**
 * Goes down from an assignment to one that no single change betters: another plan for one block, or a seller done without.
 * Undefined where so few sellers cannot serve all.
 */
export function descend(ground: Ground, from: Int32Array): Assignment | undefined {
  let now = new Assignment(ground.store, from);
  let shut = ground.closed;
  // Sellers too many are done without, those first that are missed least.
  while (count(ground, now) > ground.atMost) {
    const fewer = without({ ...ground, closed: shut }, now, Infinity);
    if (!fewer) return undefined;
    now = fewer.assignment;
    shut = fewer.closed;
  }
  if (ground.atMost !== Infinity) {
    shut = shut.slice();
    const { sellers } = ground.store.network;
    if (count(ground, now) >= ground.atMost)
      sellers.forEach(({ own }, s) => {
        if (!own && now.serves[s] === 0) shut[s] = 1;
      });
  }
  for (;;) {
    oneByOne({ ...ground, closed: shut }, now);
    const fewer = without({ ...ground, closed: shut }, now, now.cost - LEAST_GAIN);
    if (!fewer) return count(ground, now) > ground.atMost ? undefined : now;
    now = fewer.assignment;
  }
}

function count({ store: { network } }: Ground, { serves }: Assignment): number {
  return network.sellers.filter(({ own }, s) => !own && serves[s]! > 0).length;
}

/** Changes one block after another until none gains. */
function oneByOne(ground: Ground, now: Assignment): void {
  const { start, ids } = ground.alive;
  let moved = true;
  for (let round = 0; moved && round < MOST_ROUNDS; round++) {
    moved = false;
    for (let block = 0; block < now.plan.length; block++) {
      let best = -LEAST_GAIN;
      let plan = -1;
      for (let at = start[block]!; at < start[block + 1]!; at++) {
        if (!isOpen(ground, ids[at]!, ground.closed)) continue;
        const delta = now.change(block, ids[at]!);
        if (delta < best) {
          best = delta;
          plan = ids[at]!;
        }
      }
      if (plan >= 0) {
        now.take(block, plan);
        moved = true;
      }
    }
  }
}

function isOpen({ store }: Ground, plan: number, closed: Uint8Array): boolean {
  const { sellerOf } = store.network;
  if (closed[sellerOf[store.firstLink[plan]!]!]) return false;
  const other = store.secondLink[plan]!;
  if (other < 0) return true;
  if (closed[sellerOf[other]!]) return false;
  return store.further(plan).every(([link]) => !closed[sellerOf[link]!]);
}

/** The best way to do without one of the sellers, if it costs less than the limit: what it served goes where it costs least more. */
function without(
  ground: Ground,
  now: Assignment,
  limit: number,
): { assignment: Assignment; closed: Uint8Array } | undefined {
  const { network } = ground.store;
  let best: { assignment: Assignment; closed: Uint8Array } | undefined;
  for (let s = 0; s < network.sellers.length; s++) {
    if (now.serves[s] === 0 || network.sellers[s]!.own) continue;
    const closed = ground.closed.slice();
    closed[s] = 1;
    const next = new Assignment(ground.store, now.plan);
    if (moveAway(ground, next, s, closed) && next.cost < (best?.assignment.cost ?? limit))
      best = { assignment: next, closed };
  }
  return best;
}

function moveAway(ground: Ground, next: Assignment, s: number, closed: Uint8Array): boolean {
  const { network } = ground.store;
  const { start, ids } = ground.alive;
  for (const link of network.linksOfSeller[s]!) {
    const block = network.blockOf[link]!;
    if (isOpen(ground, next.plan[block]!, closed)) continue;
    let least = Infinity;
    let plan = -1;
    for (let at = start[block]!; at < start[block + 1]!; at++) {
      if (!isOpen(ground, ids[at]!, closed)) continue;
      const delta = next.change(block, ids[at]!);
      if (delta < least) {
        least = delta;
        plan = ids[at]!;
      }
    }
    if (plan < 0) return false;
    next.take(block, plan);
  }
  return true;
}
