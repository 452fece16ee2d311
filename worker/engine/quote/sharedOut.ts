/**
 * An amount shared out in whole minor units by weights: each gets the whole part of its share, and what is left goes to
 * those with the largest remainders, the first of equals first. Without any weight the first gets all.
 */
export function sharedOut(amount: bigint, weights: readonly bigint[]): bigint[] {
  const total = weights.reduce((sum, weight) => sum + weight, 0n);
  if (total === 0n) return weights.map((_, index) => (index === 0 ? amount : 0n));
  const shares = weights.map((weight, index) => ({
    index,
    whole: (amount * weight) / total,
    rest: (amount * weight) % total,
  }));
  let left = amount - shares.reduce((sum, { whole }) => sum + whole, 0n);
  const result = shares.map(({ whole }) => whole);
  for (const { index } of [...shares].sort((a, b) =>
    a.rest < b.rest ? 1 : a.rest > b.rest ? -1 : a.index - b.index,
  )) {
    if (left === 0n) break;
    result[index] = (result[index] ?? 0n) + 1n;
    left -= 1n;
  }
  return result;
}
