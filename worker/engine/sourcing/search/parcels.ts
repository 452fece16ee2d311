import { D } from '../../units/decimal.ts';
import { exactToSolver } from '../../units/money.ts';
import type { Band, Problem } from '../problem/problem.ts';

/**
 * A parcel that a supplier may send: one for each of its delivery bands (bands that follow each other on the same terms are
 * one). Money is in minor units, in floating point: of the supplier's currency for limits, of the club's for charge and rate.
 */
export interface Parcel {
  supplier: number;
  /** The bands of the supplier that it stands for. */
  bands: readonly number[];
  /** Goods are worth this at least, or are made up to it; below the other. */
  lower: number;
  below: number;
  /** It weighs less than this. */
  gramsBelow: number;
  charge: number;
  rate: number;
  /** Whether a parcel of higher value, or of more weight, is dearer: so that goods must be held below its end. */
  heldByValue: boolean;
  heldByWeight: boolean;
}

/** Weights are in grams: numbers of a size with values. */
export const MICROGRAMS = 1_000_000;

/** The parcels of all suppliers in a row, and where each supplier's begin. The buyer's own shelf sends none. */
export interface Parcels {
  list: readonly Parcel[];
  of: readonly (readonly number[])[];
}

export function parcelsOf({ suppliers, scale }: Problem): Parcels {
  const list: Parcel[] = [];
  const of = suppliers.map(({ own, bands }, supplier) => {
    if (own) return [];
    return grouped(bands).map((group) => {
      list.push(parcelOf(bands, group, supplier, scale));
      return list.length - 1;
    });
  });
  return { list, of };
}

function parcelOf(
  bands: readonly Band[],
  group: readonly number[],
  supplier: number,
  scale: Problem['scale'],
): Parcel {
  const first = bands[group[0] ?? 0]!;
  const last = bands[group.at(-1) ?? 0]!;
  const isDearer = (other: Band) => other.charge > first.charge || other.rate > first.rate;
  const heaviest = last.belowMicrograms;
  return {
    supplier,
    bands: group,
    lower: exactToSolver(first.from),
    below: last.below === undefined ? Infinity : exactToSolver(last.below),
    gramsBelow: heaviest === undefined ? Infinity : heaviest / MICROGRAMS,
    charge: exactToSolver(first.charge, scale),
    // The scale alone may be beyond what a floating-point number holds.
    rate: new D(first.rate.toString()).div(scale.toString()).toNumber(),
    heldByValue:
      last.below !== undefined && bands.some((other) => other.from > first.from && isDearer(other)),
    heldByWeight:
      heaviest !== undefined &&
      bands.some((other) => other.fromMicrograms > first.fromMicrograms && isDearer(other)),
  };
}

/** Bands by value alone that follow each other on the same terms. */
function grouped(bands: readonly Band[]): number[][] {
  const groups: number[][] = [];
  bands.forEach((band, at) => {
    const group = groups.at(-1);
    const before = group && bands[group.at(-1) ?? 0];
    const isOne =
      before !== undefined &&
      before.below === band.from &&
      before.charge === band.charge &&
      before.rate === band.rate &&
      before.fromMicrograms === band.fromMicrograms &&
      before.belowMicrograms === band.belowMicrograms;
    if (group && isOne) group.push(at);
    else groups.push([at]);
  });
  return groups;
}
