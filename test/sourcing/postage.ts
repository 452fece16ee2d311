import type { Supplier } from '../../worker/engine/model/supplier.ts';
import { MINOR, fromAmount } from './exactMoney.ts';
import type { Rules } from './rules.ts';

interface Band {
  from: number;
  charge: number;
}

function bandsOf(supplier: Supplier, rules: Rules): Band[] {
  const postage = supplier.postage;
  if (!rules.postage || !postage) return [];
  if (postage.by !== 'value') throw new Error('postage by weight is not part of these rules');
  const bands = postage.bands.map((band) => ({
    from: fromAmount(band.fromValue),
    charge: fromAmount(band.charge),
  }));
  if (!rules.freeThreshold && bands.length > 1 && bands.at(-1)?.charge === 0) bands.pop();
  return bands;
}

/** What a supplier from whom something is bought charges for sending goods of a value. */
export type Postage = (goods: number) => number;

export function postageOf(supplier: Supplier, rules: Rules): Postage {
  const bands = bandsOf(supplier, rules);
  return (goods) => {
    const value = rules.unroundedValue ? goods : Math.floor((goods + MINOR / 2) / MINOR) * MINOR;
    let charge = bands[0]?.charge ?? 0;
    for (const band of bands)
      if (rules.bandStart ? value >= band.from : value > band.from) charge = band.charge;
    return charge;
  };
}

/**
 * A value above which buying less never raises the postage, as long as the goods stay above it: a minor unit above the
 * start of the last band that charges less than the one before (a minor unit, so that it holds with the rules on starts
 * and on rounding off as well). Minus infinity where no band charges less than the one before.
 */
export function settledAbove(supplier: Supplier, rules: Rules): number {
  const bands = bandsOf(supplier, rules);
  const lastFall = bands.findLast((band, index) => band.charge < (bands[index - 1]?.charge ?? 0));
  return lastFall ? lastFall.from + MINOR : -Infinity;
}
