import { isSentWhole, sharedBranchesOf } from './branches.ts';
import type { Network } from './network.ts';
import type { Node, Worked } from './node.ts';

/**
 * Where the relaxation sends parcels whole and pieces of shared choices come out of these in part, the node is parted by how
 * many units are bought, time and again: worked is the part with no more units each time. `rest`: the parts with more.
 * Undefined where time ends it.
 */
export function plunged(
  network: Network,
  node: Worked,
  relax: (node: Node) => Worked | 'closed' | undefined,
): { worked: Worked | 'closed'; rest: Node[] } | undefined {
  const rest: Node[] = [];
  let now = node;
  for (;;) {
    const [less, more] = (isSentWhole(now) ? sharedBranchesOf(network, now) : undefined) ?? [];
    if (!less || !more) return { worked: now, rest };
    rest.push(more);
    const next = relax(less);
    if (!next) return undefined;
    if (next === 'closed') return { worked: next, rest };
    now = next;
  }
}
