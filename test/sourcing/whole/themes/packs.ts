import type { Random } from '../../random.ts';
import { jobOf, partOf, type OfferInput } from '../jobOf.ts';
import { chargesOf, kitOf, money, packOf, type Currency, type Making } from './make.ts';
import { shopsOf, type Theme } from './theme.ts';

/** Packs and kits of two to four counted parts: breaks, steps, minimums, stock, conditions, and what a parcel costs. */
export const packs: Theme = {
  name: 'packs',
  rules: [
    'breaks',
    'stepPacks',
    'minimumPacks',
    'mixedOffers',
    'stock',
    'conditions',
    'handling',
    'kits',
    'postageByValue',
    'freeThreshold',
  ],
  make: (random) => packsJob(random, { charges: { often: 70, level: 150, value: 450 } }),
};

/** Least orders, of packs and of a parcel. */
export const minimums: Theme = {
  name: 'minimums',
  rules: [
    'minimumOrder',
    'freeThreshold',
    'overbuyForMinimum',
    'minimumPacks',
    'mixedOffers',
    'stepPacks',
    'handling',
    'breaks',
  ],
  make: (random) =>
    packsJob(random, { charges: { often: 40, level: 60, value: 400 }, rules: 50, minimumOrder: true }),
};

/** The same with postage by weight. */
export const weights: Theme = {
  name: 'weights',
  rules: [
    'mixedOffers',
    'weightBands',
    'freeFromValue',
    'conditions',
    'minimumOrder',
    'handling',
    'breaks',
    'stock',
  ],
  make: (random) => packsJob(random, { charges: { often: 70, level: 150, value: 450 }, byWeight: true }),
};

interface Kind {
  charges: { often: number; level: number; value: number };
  rules?: number;
  byWeight?: boolean;
  minimumOrder?: boolean;
}

function packsJob(random: Random, { charges, rules = 30, byWeight = false, minimumOrder = false }: Kind) {
  const currency = random.pick<Currency>(['GBP', 'GBP', 'GBP', 'GBP', 'JPY', 'KWD']);
  const suppliers = shopsOf(random, 1);
  const making: Making = { random, suppliers, currencyOf: () => currency, rules };
  const requirements = ['a', 'b', 'c', 'd']
    .slice(0, random.pick(minimumOrder ? [1, 2, 2, 3] : [2, 2, 3, 3, 4]))
    .map((part, _, { length }) => ({
      part,
      needed: random.whole(1, length === 4 ? 4 : 6),
      piece: random.whole(40, 120),
    }));
  const many = requirements.length === 4;
  const most = many || !byWeight ? 2 : 3;
  const kits = byWeight || many || random.percent(5) ? 0 : 1;
  const offers: OfferInput[] = [
    ...requirements.flatMap((requirement) =>
      Array.from({ length: random.whole(1, most) }, (_, index) =>
        conditioned(packOf(`${requirement.part}-${index}`, requirement.part, requirement, making), random),
      ),
    ),
    ...Array.from({ length: kits }, (_, index) =>
      kitOf(
        `kit-${index}`,
        requirements.slice(0, 2).map(({ part, needed, piece }) => ({
          part,
          piece,
          quantity: Math.max(1, Math.round(needed * random.pick([1, 0.5, 0.5]))),
        })),
        making,
      ),
    ),
  ];
  return jobOf(
    {
      looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      currency,
      parts: requirements.map(({ part }) =>
        partOf('clip', part, byWeight ? { weightG: random.pick([2.5, 5, 7.125, 10, 20]) } : {}),
      ),
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency,
        ...chargesOf(random, currency, charges),
        ...(minimumOrder && { minimumOrder: money(random.whole(150, 600), currency) }),
        ...(byWeight && { postage: postageByWeight(random, currency) }),
      })),
      offers: offers.slice(0, 10),
      request: random.percent(20) ? { settings: { conditionsAccepted: ['new', 'used'] } } : {},
    },
  );
}

function conditioned(offer: OfferInput, random: Random): OfferInput {
  return random.percent(60)
    ? offer
    : { ...offer, condition: random.pick(['oldStock', 'used', 'used'] as const) };
}

function postageByWeight(random: Random, currency: Currency) {
  const charge = random.whole(60, 200);
  const first = random.pick([10, 20, 25, 40]);
  // Now and then the heavier parcel goes for less.
  const factor = random.percent(10) ? 0.5 : random.pick([1.5, 2, 3]);
  return {
    by: 'weight' as const,
    bands: [
      { fromG: 0, charge: money(charge, currency) },
      { fromG: first, charge: money(Math.round(charge * factor), currency) },
      ...(random.percent(50)
        ? [{ fromG: first * 2, charge: money(Math.round(charge * factor * 1.5), currency) }]
        : []),
    ],
    ...(random.percent(65) && { freeFromValue: money(random.whole(200, 700), currency) }),
  };
}
