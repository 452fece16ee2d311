/** An exact fraction with a positive denominator, in lowest terms. */
export interface Fraction {
  over: bigint;
  under: bigint;
}

export const NOTHING: Fraction = { over: 0n, under: 1n };
export const ONE: Fraction = { over: 1n, under: 1n };

/** Throws RangeError where the denominator is zero. */
export function fraction(over: bigint, under = 1n): Fraction {
  if (under === 0n) throw new RangeError('a fraction of nothing');
  const sign = under < 0n ? -1n : 1n;
  const shared = gcd(over < 0n ? -over : over, under < 0n ? -under : under) * sign;
  return { over: over / shared, under: under / shared };
}

/** A decimal string, "0.8512", or a number as it is written. */
export function fractionOf(decimal: string | number): Fraction {
  const text = String(decimal);
  const digits = text.replace('.', '');
  const places = text.includes('.') ? text.length - text.indexOf('.') - 1 : 0;
  return fraction(BigInt(digits), 10n ** BigInt(places));
}

export function plus(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.under + b.over * a.under, a.under * b.under);
}

export function minus(a: Fraction, b: Fraction): Fraction {
  return plus(a, { over: -b.over, under: b.under });
}

export function times(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.over, a.under * b.under);
}

/** Throws RangeError where the divisor is nothing. */
export function over(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.under, a.under * b.over);
}

export function compareFractions(a: Fraction, b: Fraction): number {
  const difference = a.over * b.under - b.over * a.under;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** The greatest whole number that is not above it. */
export function floorOf({ over: above, under }: Fraction): bigint {
  const whole = above / under;
  return above < 0n && whole * under !== above ? whole - 1n : whole;
}

/** The smallest whole number that is not below it. */
export function ceilOf({ over: above, under }: Fraction): bigint {
  return -floorOf({ over: -above, under });
}

/** The nearest whole number; of two as near the one that is farther from 0. */
export function roundOf({ over: above, under }: Fraction): bigint {
  const size = above < 0n ? -above : above;
  const whole = (2n * size + under) / (2n * under);
  return above < 0n ? -whole : whole;
}

/** Sums pairwise, so that the denominators stay short for as long as they can. */
export function sumOf(fractions: readonly Fraction[]): Fraction {
  if (fractions.length <= 1) return fractions[0] ?? NOTHING;
  const middle = fractions.length >> 1;
  return plus(sumOf(fractions.slice(0, middle)), sumOf(fractions.slice(middle)));
}

export function gcd(a: bigint, b: bigint): bigint {
  let [big, small] = [a, b];
  while (small !== 0n) [big, small] = [small, big % small];
  return big;
}

export function lcm(a: bigint, b: bigint): bigint {
  return (a / gcd(a, b)) * b;
}
