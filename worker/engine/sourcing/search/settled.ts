import type { Network } from './network.ts';
import type { Ground } from './prices.ts';

/** Whether it is decided that a supplier sends nothing, or which parcel it sends. */
export function isSettled(own: readonly number[], { open, must }: Ground, supplier: number): boolean {
  const many = own.filter((k) => open[k] === 1).length;
  return many === 0 || (many === 1 && must[supplier] === 1);
}

/** A dive takes a parcel that is sent so far as sent, and one less as not. */
const LEAST_SENT = 0.1;

/** The undecided parcel that is sent most; where none is sent, all others are not. */
export function mostSent(
  { parcels }: Network,
  { open, must }: Ground,
  sent: Float64Array,
): { k: number; supplier: number; isUsed: boolean } | undefined {
  let best: { k: number; supplier: number; share: number } | undefined;
  parcels.list.forEach(({ supplier }, k) => {
    if (open[k] === 0 || isSettled(parcels.of[supplier]!, { open, must }, supplier)) return;
    if (sent[k]! > (best?.share ?? -1)) best = { k, supplier, share: sent[k]! };
  });
  return best && { k: best.k, supplier: best.supplier, isUsed: best.share >= LEAST_SENT };
}
