import type { Supplier } from '../model/supplier.ts';
import { exactFromMoney, type Exact } from '../units/money.ts';
import type { Band, SupplierTerms } from './problem.ts';

/** A supplier's postage, handling and minimum order as delivery bands. */
export function termsOf(supplier: Supplier): SupplierTerms {
  const handling = supplier.handling ? exactFromMoney(supplier.handling) : 0n;
  const minimum = supplier.minimumOrder ? exactFromMoney(supplier.minimumOrder) : 0n;
  const postage = postageBands(supplier);
  const bands = postage.length === 0 && (handling > 0n || minimum > 0n) ? [ANY] : postage;
  return {
    code: supplier.code,
    handling,
    bands: bands
      .filter(({ below }) => below === undefined || below > minimum)
      .map((band) => ({
        ...band,
        from: band.from > minimum ? band.from : minimum,
        charge: band.charge + handling,
      })),
  };
}

const ANY: Band = { from: 0n, below: undefined, fromMicrograms: 0, belowMicrograms: undefined, charge: 0n };
const MICROGRAMS_PER_G = 1_000_000;

function postageBands({ postage }: Supplier): Band[] {
  if (!postage) return [];
  if (postage.by === 'value')
    return postage.bands.map((band, index) => ({
      ...ANY,
      from: exactFromMoney(band.fromValue),
      below: exactOf(postage.bands[index + 1]?.fromValue),
      charge: exactFromMoney(band.charge),
    }));
  const free = exactOf(postage.freeFromValue);
  const byWeight = postage.bands.map((band, index) => {
    const next = postage.bands[index + 1];
    return {
      ...ANY,
      below: free,
      fromMicrograms: band.fromG * MICROGRAMS_PER_G,
      belowMicrograms: next && next.fromG * MICROGRAMS_PER_G,
      charge: exactFromMoney(band.charge),
    };
  });
  return free === undefined ? byWeight : [...byWeight, { ...ANY, from: free }];
}

function exactOf(money: { amount: string; currency: string } | undefined): Exact | undefined {
  return money && exactFromMoney(money);
}
