/** Wall of a sleeve that states none, mm: common practice, no source. */
const WALL_MM = 0.5;

/**
 * Over a sleeve of PVC, conduit or spiral, which keeps its bore and is filled at the most, mm.
 *
 * @param innerMm over what lies beneath it, mm
 */
export function overStiffMm(innerMm: number, boreMm: number | undefined, wallMm = WALL_MM): number {
  return Math.max(boreMm ?? innerMm, innerMm) + 2 * wallMm;
}

/** Over a sleeve that lies close: braid, or heat-shrink with its wall as recovered, mm. */
export function overCloseMm(innerMm: number, wallMm = WALL_MM): number {
  return innerMm + 2 * wallMm;
}

/** How much wider than what is threaded a bore is at the least, percent, and so much more for every metre threaded. */
export interface Clearance {
  sleeveClearancePercent: number;
  sleeveClearancePerMetrePercent: number;
}

/** The least bore through which a bundle can be threaded, mm: its diameter with clearance, which grows with the length. */
export function boreNeededMm(innerMm: number, threadedMm: number, clearance: Clearance): number {
  const percent =
    clearance.sleeveClearancePercent + (clearance.sleeveClearancePerMetrePercent * threadedMm) / 1000;
  // Half a thousandth of a millimetre is nobody's bore; it keeps 2.0 × 1.1 from needing more than 2.2.
  return Math.round(innerMm * (1 + percent / 100) * 1000) / 1000;
}
