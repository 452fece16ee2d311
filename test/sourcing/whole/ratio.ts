/** An exact fraction in lowest terms; `d` is above zero. */
export interface Ratio {
  n: bigint;
  d: bigint;
}

export const ZERO: Ratio = { n: 0n, d: 1n };
export const ONE: Ratio = { n: 1n, d: 1n };

export function ratio(n: bigint, d: bigint): Ratio {
  const common = gcd(n < 0n ? -n : n, d);
  return common <= 1n ? { n, d } : { n: n / common, d: d / common };
}

export const plus = (a: Ratio, b: Ratio) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
export const times = (a: Ratio, b: Ratio) => ratio(a.n * b.n, a.d * b.d);
export const over = (a: Ratio, b: Ratio) => ratio(a.n * b.d, a.d * b.n);
export const sumOf = (list: readonly Ratio[]) => list.reduce(plus, ZERO);

/** Below, at or above zero as a is below, at or above b. */
export function compare(a: Ratio, b: Ratio): number {
  const left = a.n * b.d;
  const right = b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

/** "12.345" → 2469/200. */
export function fromDecimal(text: string): Ratio {
  const [whole = '', fraction = ''] = text.split('.');
  return ratio(BigInt(whole + fraction), 10n ** BigInt(fraction.length));
}

/** A percentage of at most 4 decimals as a share: 17.5 → 7/40. */
export const share = (percent: number) => ratio(BigInt(Math.round(percent * 10_000)), 1_000_000n);

/** Whether its decimals come to an end. */
export function ends({ d }: Ratio): boolean {
  let rest = d;
  for (const prime of [2n, 5n]) while (rest % prime === 0n) rest /= prime;
  return rest === 1n;
}

/** To so many decimals, cut off, for people to read. */
export function asText({ n, d }: Ratio, places = 12): string {
  const digits = ((n * 10n ** BigInt(places)) / d).toString().padStart(places + 1, '0');
  return `${digits.slice(0, -places)}.${digits.slice(-places)}`.replace(/\.?0+$/, '');
}

export function lcm(a: bigint, b: bigint): bigint {
  return (a / gcd(a, b)) * b;
}

function gcd(a: bigint, b: bigint): bigint {
  return b === 0n ? a : gcd(b, a % b);
}
