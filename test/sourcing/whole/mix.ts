/** What is bought, as far as its cost goes: by parcel (supplier and order) the goods, their weight, and whether there is one. */
export interface Mix {
  goods: readonly number[];
  weights: readonly number[];
  used: readonly boolean[];
  /** Where something could be a step less, the needs still met, and cost less. Told only where that is forbidden. */
  loose: readonly boolean[];
  /** No parcels with these goods cost less, scaled. */
  least: bigint;
}

export interface Line {
  parcel: number;
  costs: number;
  weight: number;
  least: bigint;
  loose: boolean;
}

export function mixOf(lines: readonly Line[], parcels: number): Mix {
  const mix = {
    goods: Array<number>(parcels).fill(0),
    weights: Array<number>(parcels).fill(0),
    used: Array<boolean>(parcels).fill(false),
    loose: Array<boolean>(parcels).fill(false),
    least: 0n,
  };
  for (const { parcel, costs, weight, least, loose } of lines) {
    mix.goods[parcel] = (mix.goods[parcel] ?? 0) + costs;
    mix.weights[parcel] = (mix.weights[parcel] ?? 0) + weight;
    mix.used[parcel] = true;
    if (loose) mix.loose[parcel] = true;
    mix.least += least;
  }
  return mix;
}

export function together(a: Mix, b: Mix): Mix {
  return {
    goods: a.goods.map((value, index) => value + (b.goods[index] ?? 0)),
    weights: a.weights.map((value, index) => value + (b.weights[index] ?? 0)),
    used: a.used.map((used, index) => used || b.used[index] === true),
    loose: a.loose.map((loose, index) => loose || b.loose[index] === true),
    least: a.least + b.least,
  };
}

/** One of each: mixes alike in all that their cost hangs on cost the same. Those that may cost least first. */
export function distinct(mixes: readonly Mix[]): Mix[] {
  const seen = new Map<string, Mix>();
  for (const mix of mixes)
    seen.set([mix.goods, mix.weights, mix.used.map(Number), mix.loose.map(Number)].join(';'), mix);
  return [...seen.values()].sort((a, b) => (a.least < b.least ? -1 : a.least > b.least ? 1 : 0));
}
