/** By seller: what a node of the search allows it, a bit for each of its bands and one for not being used. */
export type Allowed = Int32Array;

export const UNUSED = 1 << 30;
/** Bands beyond these have no bit. */
export const MOST_BANDS = 30;

/** The one band that a seller is settled to; −1 where it may be unused, in several, or in none. */
export function settledBand(allowed: number): number {
  if (allowed & UNUSED || allowed === 0) return -1;
  return (allowed & (allowed - 1)) === 0 ? 31 - Math.clz32(allowed) : -1;
}

/** Whether nothing is left to settle about a seller. */
export function isSettled(allowed: number): boolean {
  return (allowed & (allowed - 1)) === 0;
}
