import type { Random } from '../../random.ts';
import {
  jobOf,
  partOf,
  type LoomWants,
  type OfferInput,
  type PartInput,
  type SupplierInput,
} from '../jobOf.ts';
import { repriced } from '../repriced.ts';
import { money, sum, type Currency } from './make.ts';
import { shopsOf, type Theme } from './theme.ts';

/**
 * Bands of postage that start at, just above or far from the value of what a supplier would sell, at prices of up to a
 * quarter of a minor unit; wire by the metre, of several parts that are equal, and counted parts in packs.
 */
export const bands: Theme = {
  name: 'bands',
  rules: [
    ...([
      'wholePacks',
      'minimumPacks',
      'mixedOffers',
      'metreMinimum',
      'metreStep',
      'oneMetreLength',
    ] as const),
    ...(['equalParts', 'postage', 'freeThreshold', 'bandStart', 'unroundedValue', 'overbuying'] as const),
  ],
  make: (random) => bandsJob(random, random.pick<Currency>(['GBP', 'GBP', 'GBP', 'GBP', 'JPY', 'KWD'])),
};

/** The same where a price may miss such a value by less than a hair: at decimals that no minor unit has. */
export const hairs: Theme = {
  name: 'hairs',
  rules: bands.rules,
  make: (random) =>
    repriced(
      bandsJob(random, random.pick<Currency>(['GBP', 'GBP', 'KWD'])),
      random.pick([
        { times: 1, hairDecimal: 4 },
        { times: 997, hairDecimal: 2 },
      ]),
    ),
};

interface Requirement {
  parts: string[];
  byLength: boolean;
  /** Pieces, or mm. */
  quantity: number;
}

function bandsJob(random: Random, currency: Currency) {
  // Whole prices meet a threshold to the unit, others are rounded to it.
  const quarters = random.percent(50) ? [0, 0.5, 0.5, 0.25] : [0];
  const suppliers = shopsOf(random, 1);
  const wants: Required<LoomWants> = { wires: [], coverings: [], counted: [] };
  const parts: PartInput[] = [];
  const requirements: Requirement[] = [];
  for (const colour of (['red', 'blue'] as const).slice(0, random.pick([0, 1, 1, 2, 2]))) {
    const codes = random.percent(45) ? [`${colour}-a`, `${colour}-b`] : [`${colour}-a`];
    const lengths = Array.from({ length: random.whole(1, 3) }, () => random.whole(2, 35) * 100);
    parts.push(...codes.map((code) => partOf(colour, code)));
    wants.wires.push(...lengths.map((mm) => ({ colour, mm })));
    requirements.push({ parts: codes, byLength: true, quantity: sum(lengths) });
  }
  const counted = random.whole(requirements.length === 0 ? 2 : 1, 4 - requirements.length);
  for (const part of ['a', 'b', 'c', 'd'].slice(0, counted)) {
    const quantity = random.whole(1, 9);
    parts.push(partOf('clip', part));
    wants.counted.push({ part, quantity });
    requirements.push({ parts: [part], byLength: false, quantity });
  }
  const offers = offersFor(requirements, { suppliers, currency, quarters, random });
  return jobOf(
    { looms: { loom: wants }, lines: [{ loom: 'loom', quantity: 1 }] },
    {
      currency,
      parts,
      offers: offers.map(({ input }) => input),
      suppliers: suppliers.map((code) =>
        supplierOf(code, currency, goodsAt(requirements, offers, code, random), random),
      ),
    },
  );
}

/** An offer, and what it takes to meet its need by it alone, in minor units. */
interface Sold {
  input: OfferInput;
  requirement: Requirement;
  alone: number;
}

interface Selling {
  suppliers: readonly string[];
  currency: Currency;
  /** What prices have beyond whole minor units. */
  quarters: readonly number[];
  random: Random;
}

const MOST_OFFERS = 10;

function offersFor(requirements: readonly Requirement[], selling: Selling) {
  const { suppliers, random } = selling;
  const offers: Sold[] = [];
  let left = MOST_OFFERS;
  requirements.forEach((requirement, index) => {
    const others = requirements.length - index - 1;
    const many = Math.min(left - others, random.whole(1, 4));
    const piece = random.whole(20, 110);
    for (let each = 0; each < many; each += 1) {
      const names = {
        code: `o${index}${each}`,
        supplier: random.pick(suppliers),
        part: random.pick(requirement.parts),
      };
      offers.push(
        requirement.byLength
          ? metreOf(names, requirement, selling)
          : packOf(names, requirement, piece, selling),
      );
    }
    left -= many;
  });
  return offers;
}

interface Names {
  code: string;
  supplier: string;
  part: string;
}

const upTo = (enough: number, minimum: number, step: number) =>
  Math.ceil(Math.max(enough, minimum) / step) * step;

function metreOf(names: Names, requirement: Requirement, { currency, quarters, random }: Selling): Sold {
  const price = random.whole(30, 90) * 2 + random.pick(quarters);
  const minimumMm = random.pick([500, 1000, 2000, 5000, 10_000]);
  const stepMm = random.pick([250, 500, 1000, 1000, 2500, 5000]);
  return {
    input: { form: 'metre', ...names, pricePerMetre: money(price, currency), minimumMm, stepMm },
    requirement,
    alone: (price * upTo(requirement.quantity, minimumMm, stepMm)) / 1000,
  };
}

function packOf(
  names: Names,
  requirement: Requirement,
  piece: number,
  { currency, quarters, random }: Selling,
): Sold {
  const packCount = random.pick([1, 1, 2, 4, 5, 5, 8, 10, 20, 25]);
  const each = (piece * random.whole(70, 130)) / 100 / (1 + packCount / 40);
  const whole = random.percent(60)
    ? Math.max(1, Math.round((each * packCount) / 5)) * 5
    : Math.ceil(each * packCount);
  const price = random.percent(1) ? 0 : whole + random.pick(quarters);
  const minimumPacks = packCount <= 5 ? random.pick([1, 1, 2, 3, 5]) : random.pick([1, 1, 1, 2, 3]);
  return {
    input: { form: 'pack', ...names, packCount, packPrice: money(price, currency), minimumPacks },
    requirement,
    alone: price * Math.max(minimumPacks, Math.ceil(requirement.quantity / packCount)),
  };
}

/** The value of goods where a supplier serves some of the needs, each by its cheapest single offer there. */
function goodsAt(
  requirements: readonly Requirement[],
  offers: readonly Sold[],
  code: string,
  random: Random,
): number {
  return sum(
    requirements.map((requirement) => {
      const alone = offers
        .filter((offer) => offer.requirement === requirement && offer.input.supplier === code)
        .map((offer) => offer.alone);
      return alone.length === 0 || random.percent(25) ? 0 : Math.min(...alone);
    }),
  );
}

/** Its postage by value has a band that starts near `goods`, minor units. */
function supplierOf(code: string, currency: Currency, goods: number, random: Random): SupplierInput {
  const charge = random.whole(15, 45) * 10 + random.pick([0, 0, 5, 9]);
  const near = Math.round(goods);
  const above = near + random.whole(1, 120);
  const from = Math.max(2, random.pick([near, near, near, above, random.whole(300, 2500)]));
  const postage: [number, number][] = random.pick([
    [],
    [[0, charge]],
    ...Array<[number, number][]>(4).fill([
      [0, charge],
      [from, 0],
    ]),
    [
      [0, charge],
      [Math.max(1, Math.floor(from / 2)), Math.round(charge / 2)],
      [from, 0],
    ],
    [
      [0, charge],
      [from, Math.round(charge / 3)],
    ],
    [
      [0, Math.round(charge / 2)],
      [from, charge],
    ],
  ]);
  const stated = postage.map(([start, sent]) => ({
    fromValue: money(start, currency),
    charge: money(sent, currency),
  }));
  return {
    code,
    name: code,
    currency,
    ...(stated.length > 0 && { postage: { by: 'value', bands: stated } }),
  };
}
