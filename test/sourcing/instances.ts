import type { Job, JobInput } from '../../worker/engine/model/job.ts';
import { DECIMALS, MINOR, type InstanceCurrency } from './exactMoney.ts';
import { wantedBy, type Wanted } from './instanceLooms.ts';
import { ladderOf } from './ladders.ts';
import { needsOf, parsedJob, type Need } from './needs.ts';
import { randomFrom, type Random } from './random.ts';
import { RULES_ON } from './rules.ts';

type OfferInput = JobInput['offers'][number];
type SupplierInput = JobInput['suppliers'][number];
type Bands = { from: number; charge: number }[];

const MOST_OFFERS = 10;
/** Pack counts whose price a piece stays exact: they divide a power of ten. */
const PACK_COUNTS = [1, 1, 2, 4, 5, 5, 8, 10, 20, 25];

/**
 * A small job from a seed: up to 4 requirements, 3 suppliers and 10 offers, some at half a penny, with postage bands set
 * where a rule may decide: at, just above or far from the value of what a supplier would sell.
 */
export function instance(seed: number): Job {
  const random = randomFrom(seed);
  const currency = seed % 10 === 8 ? 'JPY' : seed % 10 === 9 ? 'KWD' : 'GBP';
  const wanted = wantedBy(random);
  const suppliers = ['north', 'south', 'west'].slice(0, random.pick([1, 2, 2, 3, 3]));
  const offers = offersFor(wanted, suppliers, currency, random);
  const job = (bands: (supplier: string) => Bands | undefined): JobInput => ({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-30',
    club: {
      currency,
      settings: {
        besideSeconds: 0,
        cuttingStepMm: random.pick([1, 5]),
        spareMinimum: random.whole(0, 2),
        spareWirePercent: seed % 3 === 0 ? 12.5 : 0,
        spareWirePieces: seed % 4 === 0 ? 1 : 0,
        spareConfidencePercent: seed % 5 === 0 ? 99 : 0,
      },
    },
    parts: wanted.parts,
    suppliers: suppliers.map((code) => supplierOf(code, bands(code), currency)),
    offers,
    looms: wanted.looms,
    request: { looms: wanted.quantities, settings: { sparePercent: random.pick([0, 5, 12.5]) } },
  });
  const unpriced = parsedJob(job(() => undefined));
  return parsedJob({
    ...unpriced,
    suppliers: suppliers.map((code) => supplierOf(code, bandsFor(unpriced, code, random), currency)),
  });
}

function offersFor(
  wanted: Wanted,
  suppliers: string[],
  currency: InstanceCurrency,
  random: Random,
): OfferInput[] {
  const offers: OfferInput[] = [];
  let left = MOST_OFFERS;
  wanted.needs.forEach((need, index) => {
    const others = wanted.needs.length - index - 1;
    const unsourced = random.percent(1) && wanted.needs.length > 1;
    const many = unsourced ? 0 : Math.min(left - others, random.whole(1, 4));
    const piece = random.whole(20, 110);
    for (let each = 0; each < many; each += 1) {
      const code = `o${index}${each}`;
      const supplier = random.pick(suppliers);
      const part = random.pick(need.parts);
      offers.push(
        need.byLength
          ? metreOffer({ code, supplier, part }, currency, random)
          : packOffer({ code, supplier, part }, piece, currency, random),
      );
    }
    left -= many;
  });
  return offers;
}

interface OfferNames {
  code: string;
  supplier: string;
  part: string;
}

function metreOffer(names: OfferNames, currency: InstanceCurrency, random: Random): OfferInput {
  const perMetre = random.whole(30, 90) * 2 + random.pick([0, 0.5, 1, 0.25]);
  return {
    form: 'metre',
    ...names,
    pricePerMetre: price(perMetre, currency),
    minimumMm: random.pick([500, 1000, 2000, 5000, 10_000]),
    stepMm: random.pick([250, 500, 1000, 1000, 2500, 5000]),
  };
}

function packOffer(names: OfferNames, piece: number, currency: InstanceCurrency, random: Random): OfferInput {
  const packCount = random.pick(PACK_COUNTS);
  const perPiece = (piece * random.whole(70, 130)) / 100 / (1 + packCount / 40);
  const whole = random.percent(60)
    ? Math.max(1, Math.round((perPiece * packCount) / 5)) * 5
    : Math.ceil(perPiece * packCount);
  const free = random.percent(1);
  return {
    form: 'pack',
    ...names,
    packCount,
    packPrice: price(free ? 0 : whole + random.pick([0, 0, 0.5, 0.25]), currency),
    minimumPacks: packCount <= 5 ? random.pick([1, 1, 2, 3, 5]) : random.pick([1, 1, 1, 2, 3]),
  };
}

/** Bands of a supplier in minor units; thresholds lie near what it would sell if some requirements were bought there. */
function bandsFor(job: Job, supplier: string, random: Random): Bands | undefined {
  const charge = random.whole(15, 45) * 10 + random.pick([0, 0, 5, 9]);
  const near = Math.round(goodsAt(job, supplier, random) / MINOR);
  const from = Math.max(
    2,
    random.pick([
      near,
      near,
      near + random.whole(1, 120),
      near + random.whole(1, 120),
      random.whole(300, 2500),
    ]),
  );
  const half = Math.max(1, Math.floor(from / 2));
  switch (
    random.pick(['none', 'flat', 'free', 'free', 'free', 'free', 'falling', 'lower', 'rising'] as const)
  ) {
    case 'none':
      return undefined;
    case 'flat':
      return [{ from: 0, charge }];
    case 'free':
      return [
        { from: 0, charge },
        { from, charge: 0 },
      ];
    case 'falling':
      return [
        { from: 0, charge },
        { from: half, charge: Math.round(charge / 2) },
        { from, charge: 0 },
      ];
    case 'lower':
      return [
        { from: 0, charge },
        { from, charge: Math.round(charge / 3) },
      ];
    case 'rising':
      return [
        { from: 0, charge: Math.round(charge / 2) },
        { from, charge },
      ];
  }
}

/** The value of goods where a supplier serves some of the requirements, each by its cheapest single offer there. */
function goodsAt(job: Job, supplier: string, random: Random): number {
  return needsOf(job).reduce((sum, need) => {
    const costs = job.offers
      .filter((offer) => offer.supplier === supplier && serves(offer, need))
      .map((offer) => costOfOne(offer, need));
    return costs.length === 0 || random.percent(25) ? sum : sum + Math.min(...costs);
  }, 0);
}

type Offer = Job['offers'][number];
const quantityOf = (need: Need) => (need.kind === 'wire' ? need.totalMm : need.quantity);

function serves(offer: Offer, need: Need): boolean {
  return (
    'part' in offer && (need.kind === 'wire' ? need.parts.includes(offer.part) : offer.part === need.part)
  );
}

function costOfOne(offer: Offer, need: Need): number {
  for (const rung of ladderOf(offer, quantityOf(need), RULES_ON))
    if (rung.gives >= quantityOf(need)) return rung.costs;
  return Infinity;
}

function supplierOf(code: string, bands: Bands | undefined, currency: InstanceCurrency): SupplierInput {
  return {
    code,
    name: code,
    currency,
    ...(bands && {
      postage: {
        by: 'value' as const,
        bands: bands.map((band) => ({
          fromValue: price(band.from, currency),
          charge: price(band.charge, currency),
        })),
      },
    }),
  };
}

/** Minor units, to a quarter at the finest, as an amount: 51.5 GBP → "0.515". */
function price(minor: number, currency: InstanceCurrency): { amount: string; currency: string } {
  const places = DECIMALS[currency];
  const fine = Number.isInteger(minor) ? 0 : 2;
  const digits = String(Math.round(minor * 10 ** fine)).padStart(places + fine + 1, '0');
  const point = digits.length - places - fine;
  const fraction = digits.slice(point);
  return { amount: fraction === '' ? digits : `${digits.slice(0, point)}.${fraction}`, currency };
}
