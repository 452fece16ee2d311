/** Clearance holes of the medium series by the screw, mm (ISO 273, as restated by engineeringhardware.com). */
const CLEARANCE_HOLES: readonly (readonly [screwMm: number, holeMm: number])[] = [
  [2, 2.4],
  [2.5, 2.9],
  [3, 3.4],
  [3.5, 3.9],
  [4, 4.5],
  [5, 5.5],
  [6, 6.6],
  [7, 7.6],
  [8, 9],
  [10, 11],
  [12, 13.5],
  [14, 15.5],
  [16, 17.5],
];

/** Studs of old British vehicles over their threads, mm: 8 to 0 BA (from memory), and inches. */
const OLD_STUDS_MM: readonly number[] = [
  ...[2.2, 2.8, 3.6, 4.7, 6],
  ...[3 / 16, 1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2].map((inch) => inch * 25.4),
];

export const HOLE_SOURCE = 'clearance holes of ISO 273, medium series, taken for rings: common practice';

/** The widest hole that suits a stud, mm: that of the metric screw of its size, else of the next one up. */
export function widestHoleMm(studMm: number): number | undefined {
  return CLEARANCE_HOLES.find(([screwMm]) => screwMm >= studMm)?.[1];
}

/**
 * Whether there is a stud that goes through the narrowest of these holes and that the widest suits. Holes under the least
 * stud or over the greatest are not known of, and may be.
 */
export function suitOneStud(narrowestMm: number, widestMm: number): boolean {
  const studs = [...CLEARANCE_HOLES.map(([screwMm]) => screwMm), ...OLD_STUDS_MM];
  const largest = Math.max(...studs.filter((mm) => mm <= narrowestMm));
  return widestMm <= (widestHoleMm(largest) ?? Infinity);
}
