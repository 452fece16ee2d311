import type { Job } from '../../../worker/engine/model/job.ts';
import { fromAmount } from '../exactMoney.ts';
import type { Rules } from './rules.ts';

type Supplier = Job['suppliers'][number];

/** Micrograms, so that mm of a wire of so many milligrams a metre are whole. */
export const GRAM = 1_000_000;

/** How a supplier charges, beside its goods: money in ten-millionths of a minor unit, weights in micrograms. */
export interface Seller {
  code: string;
  minimumOrder: number;
  /** Handling and postage; Infinity where the goods do not reach the minimum order. */
  charge(goods: number, weight: number): number;
  /** The value from which on more goods change nothing in what is charged by value. */
  lastValue: number;
  /** The weight from which on no lower weight is charged more; 0 where a band by weight never charges less than one below. */
  lastFall: number;
}

export function sellerOf(supplier: Supplier, rules: Rules): Seller {
  const minimumOrder = rules.minimumOrder && supplier.minimumOrder ? fromAmount(supplier.minimumOrder) : 0;
  const handling = rules.handling && supplier.handling ? fromAmount(supplier.handling) : 0;
  const postage = postageOf(supplier, rules);
  return {
    code: supplier.code,
    minimumOrder,
    charge: (goods, weight) => (goods < minimumOrder ? Infinity : handling + postage.charge(goods, weight)),
    lastValue: Math.max(minimumOrder, postage.lastValue),
    lastFall: postage.lastFall,
  };
}

type Postage = Pick<Seller, 'charge' | 'lastValue' | 'lastFall'>;

function postageOf({ postage }: Supplier, rules: Rules): Postage {
  if (!postage) return { charge: () => 0, lastValue: 0, lastFall: 0 };
  if (postage.by === 'value') {
    const bands = postage.bands.map((band) => ({
      from: fromAmount(band.fromValue),
      charge: fromAmount(band.charge),
    }));
    return {
      charge: (goods) => bands.findLast(({ from }) => from <= goods)?.charge ?? 0,
      lastValue: bands.at(-1)?.from ?? 0,
      lastFall: 0,
    };
  }
  const every = postage.bands.map((band) => ({
    from: band.fromG * GRAM,
    charge: fromAmount(band.charge),
  }));
  const bands = rules.weightBands ? every : every.slice(0, 1);
  const free = rules.freeFromValue && postage.freeFromValue ? fromAmount(postage.freeFromValue) : undefined;
  return {
    charge: (goods, weight) =>
      free !== undefined && goods >= free ? 0 : (bands.findLast(({ from }) => from <= weight)?.charge ?? 0),
    lastValue: free ?? 0,
    lastFall: bands.findLast((band, index) => band.charge < (bands[index - 1]?.charge ?? 0))?.from ?? 0,
  };
}
