import type { Seller } from './charges.ts';

/** What is bought, as far as its cost goes: at each supplier the goods, their weight, and whether anything is bought. */
export interface Mix {
  goods: readonly number[];
  weights: readonly number[];
  used: readonly boolean[];
  /** Where something could be a step less, the needs still met, and cost less. Told only where that is forbidden. */
  loose: readonly boolean[];
  spent: number;
}

export interface Line {
  seller: number;
  costs: number;
  weight: number;
  loose?: boolean;
}

export function mixOf(lines: readonly Line[], sellers: number): Mix {
  const each = <T>(none: T, of: (line: Line, before: T) => T) =>
    Array.from({ length: sellers }, (_, index) =>
      lines.filter(({ seller }) => seller === index).reduce((before, line) => of(line, before), none),
    );
  return {
    goods: each(0, ({ costs }, sum) => sum + costs),
    weights: each(0, ({ weight }, sum) => sum + weight),
    used: each(false, () => true),
    loose: each(false, ({ loose }, before) => before || loose === true),
    spent: lines.reduce((sum, { costs }) => sum + costs, 0),
  };
}

export function together(a: Mix, b: Mix): Mix {
  return {
    goods: a.goods.map((value, index) => value + (b.goods[index] ?? 0)),
    weights: a.weights.map((value, index) => value + (b.weights[index] ?? 0)),
    used: a.used.map((used, index) => used || b.used[index] === true),
    loose: a.loose.map((loose, index) => loose || b.loose[index] === true),
    spent: a.spent + b.spent,
  };
}

/** The delivered cost; Infinity where a supplier that is used does not sell for so little. */
export function delivered(mix: Mix, sellers: readonly Seller[]): number {
  return sellers.reduce((cost, seller, index) => {
    if (!mix.used[index]) return cost;
    if (mix.loose[index] && seller.minimumOrder > 0) return Infinity;
    return cost + seller.charge(mix.goods[index] ?? 0, mix.weights[index] ?? 0);
  }, mix.spent);
}

/** One of each: mixes alike in all that their cost hangs on cost the same. Cheapest goods first. */
export function distinct(mixes: readonly Mix[]): Mix[] {
  const seen = new Map<string, Mix>();
  for (const mix of mixes)
    seen.set([mix.goods, mix.weights, mix.used.map(Number), mix.loose.map(Number)].join(';'), mix);
  return [...seen.values()].sort((a, b) => a.spent - b.spent);
}
