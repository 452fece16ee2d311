import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';
import { withMore, type Part } from './planStore.ts';
import { partialSteps } from './steps.ts';

const MOST_FOUND = 4000;
/** Steps of looking for them, by block. */
const MOST_STEPS = 100_000;

/**
 * Adds to a node every plan of three sellers and more that a mix of less than the limit can have, so that none need be
 * looked for below it; false where there are too many. The relaxation's last look is at the node's prices.
 */
export function completePlans(relaxation: Relaxation, node: Node, room: number): boolean {
  const { network, look, store } = relaxation;
  const { start, ids } = node.alive;
  const more = new Map<number, number[]>();
  for (let block = 0; block < network.blocks.length; block++) {
    if (network.blocks[block]!.single) continue;
    const found = longer(relaxation, block, look.price[block]! + room, node.must);
    if (!found) return false;
    const known = new Set(ids.subarray(start[block], start[block + 1]));
    more.set(
      block,
      found.map((parts) => store.add(parts)).filter((id) => !known.has(id)),
    );
  }
  node.alive = withMore(node.alive, more);
  node.complete = true;
  return true;
}

/** Every plan of at least three sellers, none of them beyond need, that costs a block no more than the limit. */
function longer(
  relaxation: Relaxation,
  block: number,
  limit: number,
  must: Uint8Array,
): Part[][] | undefined {
  const { need } = relaxation.network.blocks[block]!;
  const { offered: useful, dearness } = partialSteps(relaxation, block, limit);
  if (useful.length < 3 || dearness * need > limit) return [];
  // Those that must be used come first, and none of them is passed over.
  useful.sort((a, b) => must[b.link]! - must[a.link]!);
  const forced = useful.filter(({ link }) => must[link] !== 0).length;
  const found: Part[][] = [];
  const chosen: { part: Part; gives: number }[] = [];
  let steps = 0;
  const choose = (from: number, given: number, cost: number): boolean => {
    if (++steps > MOST_STEPS) return false;
    for (let at = from; at < (from < forced ? from + 1 : useful.length); at++)
      for (const step of useful[at]!.steps) {
        const sum = cost + step.cost;
        const all = given + step.gives;
        if (sum + dearness * Math.max(0, need - all) > limit) continue;
        chosen.push({ part: [useful[at]!.link, step.step], gives: step.gives });
        if (all >= need) {
          if (at + 1 < forced) {
            chosen.pop();
            continue;
          }
          // Without any one of them it would not be enough.
          if (chosen.length > 2 && chosen.every(({ gives }) => all - gives < need))
            found.push(chosen.map(({ part }) => part));
        } else if (!choose(at + 1, all, sum)) return false;
        chosen.pop();
        if (found.length > MOST_FOUND) return false;
      }
    return true;
  };
  return choose(0, 0, 0) ? found : undefined;
}
