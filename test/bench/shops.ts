import { randomBelow } from '../support/randomBelow.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { pence } from './pence.ts';

/** How much there is to choose from, and how prices lie. */
export interface Shops {
  requirements: number;
  suppliers: number;
  offers: number;
  /** Part base × the supplier's factor 0.97 to 1.03 × noise of 3 % either way; else every price for itself. */
  correlated: boolean;
  seed: number;
}

export const FAMILIES = {
  loom: { requirements: 60, suppliers: 12, offers: 500 },
  wide: { requirements: 60, suppliers: 40, offers: 1_200 },
  pool: { requirements: 600, suppliers: 40, offers: 3_000 },
  widest: { requirements: 500, suppliers: 100, offers: 6_000 },
} as const;
export type Family = keyof typeof FAMILIES;

const PACKS = [1, 2, 5, 10, 25, 50, 100] as const;

/**
 * A job as shops are: packs of 1 to 100, 45 % of offers with one or two breaks, 10 % with minimum packs, 8 % with steps,
 * 12 % with little stock; 85 % of suppliers with postage, half of these free from 20 to 200, a quarter with a dearer band
 * in between; 30 % with a minimum order of 5 to 30. Every requirement can be met. The same seed makes the same job.
 */
export function shopsJob({ requirements, suppliers, offers, correlated, seed }: Shops): JobInput {
  const below = randomBelow(seed * 7_919 + requirements * 31 + suppliers * 7 + (correlated ? 1 : 0));
  const between = (low: number, high: number) => low + below(high - low + 1);
  const percent = (share: number) => below(100) < share;
  const parts = numbers(requirements).map((n) => ({
    code: `part-${n}`,
    // Pence a piece: as many cheap ones as dear ones on a scale of ratios, 4 to 300.
    worth: 4 * 75 ** (below(10_000) / 10_000),
    need: Math.round(60 ** (below(10_000) / 10_000)),
  }));
  const shops = numbers(suppliers).map((n) => {
    const posts = percent(85);
    const free = posts && percent(50);
    return {
      code: `shop-${n}`,
      factor: between(970, 1_030) / 1_000,
      charge: posts ? between(250, 895) : undefined,
      freeFrom: free ? between(2_000, 20_000) : undefined,
      dearer: posts && percent(25),
      minimum: percent(30) ? between(500, 3_000) : undefined,
    };
  });
  // The first offer of every part has no end, so that every requirement can be met.
  const offerOf = (n: number) => {
    const first = n <= requirements;
    const part = parts[first ? n - 1 : below(requirements)];
    const shop = shops[below(suppliers)];
    if (!part || !shop) throw new Error('no such part or shop');
    const count = PACKS[below(PACKS.length)] ?? 1;
    const own = correlated ? (shop.factor * between(970, 1_030)) / 1_000 : between(70, 140) / 100;
    // Larger packs are cheaper a piece: a hundred costs some 60 % of a hundred single ones.
    const price = Math.max(1, Math.round(part.worth * own * count ** 0.89));
    const [minimum, step] = [percent(10) ? between(2, 4) : 1, percent(8) ? between(2, 5) : 1];
    const from = between(2, 5);
    const breaks = percent(45)
      ? [
          { fromPacks: minimum + from, packPrice: pence(Math.max(1, Math.round(price * 0.93))) },
          ...(percent(50)
            ? [{ fromPacks: minimum + from * 3, packPrice: pence(Math.max(1, Math.round(price * 0.86))) }]
            : []),
        ]
      : [];
    const little = percent(12) && !first;
    return {
      form: 'pack' as const,
      code: `offer-${n}`,
      supplier: shop.code,
      part: part.code,
      packCount: count,
      packPrice: pence(price),
      minimumPacks: minimum,
      stepPacks: step,
      ...(breaks.length > 0 ? { breaks } : {}),
      ...(little ? { stockPacks: between(1, 6) } : {}),
    };
  };
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-01',
    club: {
      currency: 'GBP',
      settings: { sparePercent: 0, spareMinimum: 0, spareConfidencePercent: 0, solverSeconds: 120 },
    },
    parts: parts.map(({ code }) => ({ kind: 'consumable', code, description: `Part ${code}` })),
    suppliers: shops.map(({ code, charge, freeFrom, dearer, minimum }) => ({
      code,
      name: `Shop ${code}`,
      currency: 'GBP',
      ...(charge === undefined
        ? {}
        : { postage: { by: 'value' as const, bands: bandsOf(charge, freeFrom, dearer) } }),
      ...(minimum === undefined ? {} : { minimumOrder: pence(minimum) }),
    })),
    offers: numbers(offers).map(offerOf),
    looms: [
      {
        code: 'shops',
        name: 'A loom of counted parts',
        parts: parts.map(({ code, need }) => ({ part: code, quantity: need })),
      },
    ],
    request: { looms: [{ loom: 'shops', quantity: 1 }] },
  };
}

/** Where it is never free, the dearer band lies from 40.00 to 80.00. */
function bandsOf(charge: number, freeFrom: number | undefined, dearer: boolean) {
  const end = freeFrom ?? 8_000;
  return [
    { fromValue: pence(0), charge: pence(charge) },
    ...(dearer ? [{ fromValue: pence(Math.round(end / 2)), charge: pence(Math.round(charge * 1.5)) }] : []),
    ...(freeFrom !== undefined
      ? [{ fromValue: pence(freeFrom), charge: pence(0) }]
      : dearer
        ? [{ fromValue: pence(end), charge: pence(charge) }]
        : []),
  ];
}

const numbers = (count: number) => Array.from({ length: count }, (_, index) => index + 1);
