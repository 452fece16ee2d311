import { branchesOf, isSentWhole, sharedBranchesOf } from './branches.ts';
import type { Network } from './network.ts';
import type { Worked } from './node.ts';
import type { Ground } from './prices.ts';
import type { Relaxation } from './relaxation.ts';

/**
 * Parts of a ground that take in all of its mixes, each with a bound and the multipliers that give it. Nothing is left out
 * for what it costs; the part of the lowest bound is parted on while its relaxation sends some parcel in part, or pieces come out of shared choices in part, until there
 * are so many. Undefined where time ends before the first is worked. Throws BeyondSolver, and Cancelled.
 */
export function casesOf(
  network: Network,
  relaxation: Relaxation,
  ground: Ground,
  most: number,
): Worked[] | undefined {
  const relaxed = (at: Ground, bound: number) =>
    relaxation.of({ ground: at, bound }, { limit: () => Infinity });
  const first = relaxed(ground, -Infinity);
  if (!first) return undefined;
  const open: Worked[] = [];
  const done: Worked[] = [];
  if (!('closedBy' in first)) open.push(first);
  while (open.length > 0 && open.length + done.length < most) {
    const lowest = open.reduce((least, one) => (one.bound < least.bound ? one : least));
    open.splice(open.indexOf(lowest), 1);
    const nodes = isSentWhole(lowest) ? sharedBranchesOf(network, lowest) : branchesOf(network, lowest);
    const kids = nodes?.map((kid) => relaxed(kid.ground, kid.bound));
    if (!kids || kids.includes(undefined)) done.push(lowest);
    else open.push(...kids.flatMap((kid) => (kid && !('closedBy' in kid) ? [kid] : [])));
  }
  return [...done, ...open];
}
