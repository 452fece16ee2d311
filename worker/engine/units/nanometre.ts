/**
 * Millimetres to the nanometre: what sums and searches of floating point leave in the last digits is no difference. 1.2 mm
 * and 2.1 mm side by side go through 3.3 mm.
 */
export function toNanometre(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}
