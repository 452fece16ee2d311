/**
 * How much longer a wire of a twisted pair is than the pair: √(1 + (πd/p)²), the unrolled helix of its middle line. Of
 * two wires of one outside diameter the middles run on a circle of that diameter.
 *
 * @param diameterMm of the circle on which the wire's middle runs, mm
 * @param pitchMm length of one turn, mm, above 0
 */
export function twistFactor(diameterMm: number, pitchMm: number): number {
  return Math.hypot(1, (Math.PI * diameterMm) / pitchMm);
}
