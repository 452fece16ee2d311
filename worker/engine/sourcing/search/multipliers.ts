import type { Network } from './network.ts';

/**
 * Multipliers of the rows that the relaxation leaves out. `link`: by link and parcel of its supplier, what a requirement pays
 * for using the link in that parcel (of pieces out of a shared choice: for using these at all, in place 0). `credit`: by
 * parcel, what a minor unit of goods counts towards its lower limit (above 0) or against its upper one (below 0).
 * `weight`: by parcel, against its greatest weight, a microgram. `capacity`: by shared choice and capacity, for a piece.
 * `stock`: by row of stock, for a unit. `asked`: by requirement and option of several.
 * Any values that are not below 0 give a true bound; credit may be, and is at most the rate, at which money makes goods up.
 */
export interface Multipliers {
  link: readonly Float64Array[];
  credit: Float64Array;
  weight: Float64Array;
  capacity: readonly Float64Array[];
  stock: Float64Array;
  asked: readonly Float64Array[];
}

/** All 0, at which the bound is that of each requirement and each supplier by itself. */
export function noMultipliers({ parcels, links, shared, stock, requirements }: Network): Multipliers {
  return {
    link: links.map(
      ({ supplier, shared: of }) =>
        new Float64Array(of === undefined ? (parcels.of[supplier]?.length ?? 0) : 1),
    ),
    credit: new Float64Array(parcels.list.length),
    weight: new Float64Array(parcels.list.length),
    capacity: shared.map(({ capacities }) => new Float64Array(capacities.length)),
    stock: new Float64Array(stock.length),
    asked: requirements.map(
      ({ when }) => new Float64Array(when !== undefined && when.length > 1 ? when.length : 0),
    ),
  };
}
