/** A fraction with a denominator above 0. */
export interface Fraction {
  over: bigint;
  under: bigint;
}

const MANTISSA_BITS = 52n;

/** Just what a number is: each finite one is a whole number over a power of two (IEEE 754, binary64). Throws RangeError of any other. */
export function fractionOf(value: number): Fraction {
  if (!Number.isFinite(value)) throw new RangeError(`${value} is no fraction`);
  const bits = new DataView(new ArrayBuffer(8));
  bits.setFloat64(0, value);
  const all = bits.getBigUint64(0);
  const exponent = (all >> MANTISSA_BITS) & 0x7ffn;
  const mantissa = (all & ((1n << MANTISSA_BITS) - 1n)) | (exponent > 0n ? 1n << MANTISSA_BITS : 0n);
  let over = value < 0 ? -mantissa : mantissa;
  let shift = (exponent > 0n ? exponent : 1n) - 1_075n;
  if (over === 0n) return { over, under: 1n };
  while (shift < 0n && (over & 1n) === 0n) {
    over >>= 1n;
    shift++;
  }
  return shift < 0n ? { over, under: 1n << -shift } : { over: over << shift, under: 1n };
}

/** A number as so many parts of a whole. Throws RangeError where it is not whole in these. */
export function inParts(value: number, parts: bigint): bigint {
  const { over, under } = fractionOf(value);
  if (parts % under !== 0n) throw new RangeError(`${value} is not whole in ${parts}`);
  return over * (parts / under);
}

/** Whether one is as great as the other, less so much. */
export function reaches(one: Fraction, other: Fraction, less: Fraction): boolean {
  const sum = { over: one.over * less.under + less.over * one.under, under: one.under * less.under };
  return sum.over * other.under >= other.over * sum.under;
}
