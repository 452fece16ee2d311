import type { InstanceCurrency } from '../exactMoney.ts';
import type { Random } from '../random.ts';
import type { NeededPart } from './instanceNeeds.ts';
import type { OfferInput } from './jobOf.ts';
import { amountOf } from './money.ts';

const MOST_OFFERS = 7;

/** What the offers of an instance are made of. */
interface Setting {
  random: Random;
  currency: InstanceCurrency;
  suppliers: readonly string[];
  /** About cutting: fixed lengths and lengths by the metre side by side, often too few of them. */
  cutting: boolean;
}

/** Up to seven offers; one need in a hundred has none. */
export function offersFor(needed: readonly NeededPart[], setting: Setting): OfferInput[] {
  const { random } = setting;
  const offers: OfferInput[] = [];
  const counted = needed.flatMap((need) => (need.kind === 'counted' ? [need] : []));
  const kits = counted.length > 0 && random.percent(60) ? random.pick([1, 1, 2]) : 0;
  const prices = new Map(needed.map(({ part }) => [part, random.whole(40, 120)]));
  for (let index = 0; index < kits; index += 1) offers.push(kit(`kit-${index}`, counted, prices, setting));
  needed.forEach((need, index) => {
    const rest = needed.length - index - 1;
    const most = MOST_OFFERS - offers.length - rest;
    const many = random.percent(1)
      ? 0
      : Math.min(most, random.pick(setting.cutting ? [3, 3, 4, 5] : [1, 2, 2, 3, 3, 4]));
    for (let each = 0; each < many; each += 1) {
      const names = { code: `offer-${index}-${each}`, part: need.part };
      const price = prices.get(need.part) ?? 50;
      if (need.kind === 'counted') offers.push(pack(names, need.quantity, price, setting));
      else if (random.percent(setting.cutting ? 45 : 60))
        offers.push(fixedLength(names, need, price, setting));
      else offers.push(byMetre(names, need, price, setting));
    }
  });
  return offers;
}

interface Names {
  code: string;
  part: string;
}

const sum = (list: readonly number[]) => list.reduce((total, each) => total + each, 0);

function common({ random, suppliers, cutting }: Setting) {
  return {
    supplier: random.pick(suppliers),
    condition: random.percent(cutting ? 90 : 65)
      ? ('new' as const)
      : random.pick(['oldStock', 'used', 'used', 'reproduction'] as const),
  };
}

/** Minor units, often to a quarter. */
const fine = (minor: number, random: Random) =>
  Math.max(1, Math.round(minor)) + random.pick([0, 0, 0.5, 0.25]);

/** Rules of packs, lengths and kits, of which about so many are needed. */
function packRules(enough: number, price: number, { random, currency, cutting }: Setting) {
  const minimumPacks = cutting && random.percent(70) ? 1 : random.pick([1, 1, 1, 2, 3]);
  const from = Math.max(minimumPacks + 1, enough + random.pick([-1, 0, 0, 1, 1, 2]));
  // Now and then a break is dearer, by mistake: its price holds all the same.
  const factor = random.percent(4) ? 1.1 : random.pick([0.6, 0.7, 0.8, 0.9]);
  const cheaper = fine(price * factor, random);
  const broken = price > 0 && random.percent(cutting ? 20 : 40);
  const twice = broken && random.percent(25);
  return {
    packPrice: amountOf(price, currency),
    minimumPacks,
    stepPacks: cutting && random.percent(70) ? 1 : random.pick([1, 1, 1, 2, 3]),
    ...(random.percent(cutting ? 60 : 35) && {
      stockPacks: Math.max(0, enough + random.pick([-2, -1, -1, 0, 1, 2])),
    }),
    ...(broken && {
      breaks: [
        { fromPacks: from, packPrice: amountOf(cheaper, currency) },
        ...(twice ? [{ fromPacks: from + 2, packPrice: amountOf(cheaper * 0.75, currency) }] : []),
      ],
    }),
  };
}

function pack(names: Names, quantity: number, piece: number, setting: Setting): OfferInput {
  const { random } = setting;
  const packCount = random.pick([1, 1, 2, 3, 4, 5, 10]);
  const price = fine((piece * packCount * random.whole(70, 130)) / 100 / (1 + packCount / 20), random);
  const enough = Math.ceil(quantity / packCount);
  return {
    form: 'pack',
    ...names,
    ...common(setting),
    packCount,
    ...packRules(enough, random.percent(2) ? 0 : price, setting),
  };
}

function kit(
  code: string,
  counted: readonly Extract<NeededPart, { kind: 'counted' }>[],
  prices: ReadonlyMap<string, number>,
  setting: Setting,
): OfferInput {
  const { random } = setting;
  const chosen = counted.filter((_, index) => index === 0 || random.percent(85));
  const contents = chosen.map(({ part, quantity }) => ({
    part,
    quantity: Math.max(1, Math.round(quantity * random.pick([1, 1, 0.5, 0.5, 0.34]))),
  }));
  const value = sum(contents.map(({ part, quantity }) => (prices.get(part) ?? 50) * quantity));
  const price = fine((value * random.whole(55, 110)) / 100, random);
  return {
    form: 'kit',
    code,
    contents,
    ...common(setting),
    ...packRules(random.whole(1, 2), price, setting),
  };
}

function fixedLength(
  names: Names,
  need: Extract<NeededPart, { pieces: number[] }>,
  metre: number,
  setting: Setting,
): OfferInput {
  const { random } = setting;
  const longest = Math.max(...need.pieces);
  const fitting = [1000, 2000, 3000, 4000, 5000, 10_000].filter(
    (mm) => need.kind === 'tape' || random.percent(10) || mm >= longest,
  );
  const nominalMm = random.pick(fitting.slice(0, 3).length > 0 ? fitting.slice(0, 3) : [5000]);
  const price = fine((((metre * nominalMm) / 1000) * random.whole(60, 110)) / 100, random);
  return {
    form: 'length',
    ...names,
    ...common(setting),
    nominalMm,
    tolerancePercent: random.pick([0, 2, 2.5, 5, 7.125]),
    endLossMm: random.pick([0, 25, 50, 100]),
    ...packRules(Math.ceil(sum(need.pieces) / nominalMm), price, setting),
  };
}

function byMetre(
  names: Names,
  need: Extract<NeededPart, { pieces: number[] }>,
  metre: number,
  setting: Setting,
): OfferInput {
  const { random, currency, cutting } = setting;
  const price = fine((metre * random.whole(70, 140)) / 100, random);
  const total = sum(need.pieces);
  const minimumMm = random.pick([500, 1000, 1000, 2000]);
  const stepMm = random.pick([500, 500, 1000, 1000, 2000]);
  const fromMm = Math.max(minimumMm + 1, Math.round(total / 1000 + random.pick([-1, 0, 1, 1, 2])) * 1000);
  return {
    form: 'metre',
    ...names,
    ...common(setting),
    pricePerMetre: amountOf(price, currency),
    minimumMm,
    stepMm,
    ...(random.percent(cutting ? 55 : 40) && {
      stockMm: Math.max(0, Math.round((total * random.pick([0.4, 0.6, 0.8, 1, 1.3])) / 100) * 100),
    }),
    ...(random.percent(cutting ? 15 : 35) && {
      breaks: [
        { fromMm, pricePerMetre: amountOf(fine(price * random.pick([0.65, 0.8, 0.9]), random), currency) },
      ],
    }),
  };
}
