/** The greatest common divisor of two whole numbers; of 0 and another, the other. */
export function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
