/** So many pence, to a tenth at the finest, as an amount of pounds. */
export function pence(count: number) {
  const amount = Number.isInteger(count) ? (count / 100).toFixed(2) : (count / 100).toFixed(3);
  return { amount, currency: 'GBP' };
}
