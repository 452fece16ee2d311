/** Thickness of a tape that states none, mm: common practice, no source. */
const TAPE_MM = 0.2;

/**
 * Length of tape in a spiral, mm: πDh/(w(1 − p)). The turns are πD long and go on by w(1 − p) each (mathforum.org 55266
 * for p = 0).
 *
 * @param diameterMm over what is wound
 * @param alongMm length that is wound
 * @param overlapPercent of its width that each turn lies over the one before, under 100
 */
export function spiralMm(
  diameterMm: number,
  alongMm: number,
  widthMm: number,
  overlapPercent: number,
): number {
  return (Math.PI * diameterMm * alongMm) / (widthMm * (1 - overlapPercent / 100));
}

/** Turns in one place, mm. */
export function turnsMm(diameterMm: number, turns: number): number {
  return Math.PI * diameterMm * turns;
}

/** Over tape, mm: its overlap lays it 1/(1 − p) thick on average. */
export function overTapeMm(innerMm: number, overlapPercent: number, thicknessMm = TAPE_MM): number {
  return innerMm + (2 * thicknessMm) / (1 - overlapPercent / 100);
}
