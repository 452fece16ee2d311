import { isSettled, UNUSED } from './allowed.ts';
import type { Network } from './network.ts';
import type { Node } from './node.ts';

/** Two ways to go on: a seller allowed some of what it is, or the rest. */
export interface Split {
  seller: number;
  parts: readonly [number, number];
  score: number;
}

const UNUSED_WEIGHT = 0.7;
const LEAST_DOUBT = 0.02;

/**
 * Where to go on, the most promising first: a band that charges less than another, against all else, for what it saves and
 * how undecided the relaxation is about it; whether a seller is used, likewise.
 */
export function splitsOf({ sellers }: Network, node: Node, places: Int32Array): Split[] {
  const splits: Split[] = [];
  for (let s = 0; s < sellers.length; s++) {
    const state = node.allowed[s]!;
    if (isSettled(state)) continue;
    const { bands } = sellers[s]!;
    const dearest = bands.reduce((most, { charge }) => Math.max(most, charge), 0);
    let offered = false;
    for (let b = 0; b < bands.length; b++) {
      const bit = 1 << b;
      if ((state & bit) === 0) continue;
      const rest = state & ~bit;
      if (rest === 0 || rest === UNUSED) continue;
      offered = true;
      const saved = dearest - bands[b]!.charge;
      splits.push({
        seller: s,
        parts: [bit, rest],
        score: (LEAST_DOUBT + doubt(node.bandUse[places[s]! + b]!)) * (saved + 1),
      });
    }
    if (state & UNUSED)
      splits.push({
        seller: s,
        parts: [state & ~UNUSED, UNUSED],
        score: (LEAST_DOUBT + doubt(node.use[s]!)) * (dearest + 1) * (offered ? UNUSED_WEIGHT : 1),
      });
  }
  return splits.sort((a, b) => b.score - a.score || a.seller - b.seller);
}

const doubt = (share: number) => share * (1 - share);
