import { exactToSolver } from '../../units/money.ts';
import type { Problem } from '../problem/problem.ts';
import { MOST_BANDS } from './allowed.ts';

/** A delivery band in minor units: of the seller's currency below and above, of the club's for charge and rate. */
export interface SellerBand {
  lower: number;
  /** Goods below this; Infinity: no end. */
  below: number;
  charge: number;
  rate: number;
  /** Whether a band of higher value charges more, so that goods must be held below the end of this one. */
  held: boolean;
}

/** A seller in numbers for bounds. */
export interface Seller {
  code: string;
  own: boolean;
  bands: readonly SellerBand[];
  leastRate: number;
}

/** Undefined where weight bears on what a parcel costs, or where a supplier has more bands than the search tells apart. */
export function sellersOf(problem: Problem): Seller[] | undefined {
  const sellers: Seller[] = [];
  for (const { code, own, bands } of problem.suppliers) {
    const byWeight = bands.some((band) => band.fromMicrograms > 0 || band.belowMicrograms !== undefined);
    if (byWeight) return undefined;
    const list = bands.map(({ from, below, charge, rate }): SellerBand => {
      const dearer = bands.some((other) => other.from > from && (other.charge > charge || other.rate > rate));
      return {
        lower: exactToSolver(from),
        below: below === undefined ? Infinity : exactToSolver(below),
        charge: exactToSolver(charge, problem.scale),
        rate: Number(rate) / Number(problem.scale),
        held: dearer,
      };
    });
    // A band with the same terms as the one before it is one with it.
    const merged: SellerBand[] = [];
    for (const band of list) {
      const last = merged.at(-1);
      if (last?.charge === band.charge && last.rate === band.rate && last.below === band.lower)
        merged[merged.length - 1] = { ...last, below: band.below, held: band.held };
      else merged.push(band);
    }
    if (merged.length > MOST_BANDS) return undefined;
    sellers.push({ code, own, bands: merged, leastRate: Math.min(...merged.map(({ rate }) => rate)) });
  }
  return sellers;
}
