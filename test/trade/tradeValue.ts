/** One value of the trade: who published it, what it is, and what the engine says. */
export interface TradeValue {
  /** The standard and table, the page, "common practice, no source" or "from memory". */
  readonly source: string;
  readonly what: string;
  readonly got: () => number | string;
  readonly expected: number | string;
  /** The greatest honest difference, in the unit of the value. Without it the two must be equal. */
  readonly within?: number;
}

/** By this a value is told from all others. */
export function nameOf({ source, what }: TradeValue): string {
  return `${what}: ${source}`;
}

/** Whether what the engine says is the value, as closely as it is checked. */
export function isMet({ expected, within }: TradeValue, got: number | string): boolean {
  if (within === undefined || typeof expected === 'string') return got === expected;
  return Math.abs(Number(got) - expected) <= within;
}
