import type { Band } from '../sourcing/problem/problem.ts';

/**
 * Whether a parcel never costs less, nor can be ordered where it could not, when its goods are worth more: then a mix
 * that loses at one price of an offer loses at every higher one. Free postage from a value on, and minimum orders, break
 * this.
 */
export function neverFalls(bands: readonly Band[]): boolean {
  const worth = ({ charge, rate }: Band, goods: bigint) => charge + rate * goods;
  return bands.every((band) => {
    if (bands.every(({ from }) => from > 0n)) return false;
    const { below } = band;
    if (below === undefined) return true;
    return bands.every(
      (next) =>
        next.from < below || !shareWeights(band, next) || worth(next, next.from) >= worth(band, below),
    );
  });
}

function shareWeights(a: Band, b: Band): boolean {
  const ends = (band: Band) => band.belowMicrograms ?? Infinity;
  return a.fromMicrograms < ends(b) && b.fromMicrograms < ends(a);
}
