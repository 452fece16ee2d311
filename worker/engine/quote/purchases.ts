import type { Job } from '../model/job.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import type { Purchase } from '../model/result.ts';
import { usableMm } from '../sourcing/choices.ts';
import type { Choice, Plan, Problem } from '../sourcing/problem.ts';
import type { SupplierShare } from '../sourcing/pricing.ts';
import { lineCost } from '../sourcing/units.ts';
import { exactToAmount, minorToAmount, toMinor, type Exact } from '../units/money.ts';
import { sharedOut } from './sharedOut.ts';

/** A purchase with what the printed lines are made from. */
export interface Bought {
  purchase: Purchase;
  offer: Offer;
  exact: Exact;
}

/** What a plan buys, in the order of the requirements and then of the offers' codes, with each line's share of postage. */
export function boughtIn(job: Job, problem: Problem, plan: Plan, shares: readonly SupplierShare[]): Bought[] {
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const unmet = new Set(plan.unmet);
  const lines = problem.choices.flatMap((choice, index) => {
    const units = plan.units[index] ?? 0;
    const offer = offers.get(choice.offer);
    if (!offer || units === 0) return [];
    const demands = choice.serves.map(({ demand }) => demand);
    const met = demands.filter((demand) => !unmet.has(demand));
    const [first = 0, ...others] = (met.length > 0 ? met : demands).sort((a, b) => a - b);
    return [{ choice, offer, units, first, others, exact: lineCost(choice, units) }];
  });
  lines.sort((a, b) => a.first - b.first);
  const postage = postageShares(lines, shares);
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  return lines.map(({ choice, offer, units, first, others, exact }, at) => {
    const requirementOf = (demand: number) => problem.demands[demand]?.requirement ?? '';
    const served = new Set(choice.serves.map(({ demand }) => requirementOf(demand)));
    return {
      offer,
      exact,
      purchase: {
        requirement: requirementOf(first),
        ...(others.length > 0 ? { alsoFor: others.map(requirementOf) } : {}),
        offer: offer.code,
        supplier: offer.supplier,
        part: partOf(offer, served),
        bought: amountOf(offer, units),
        exactCost: { amount: exactToAmount(exact, currency), currency },
        cost: money(toMinor(exact)),
        postageShare: money(postage[at] ?? 0n),
        delivered: money(toMinor(exact) + (postage[at] ?? 0n)),
      },
    };
  });
}

/** Postage and handling of each supplier over its lines, by their value. */
function postageShares(
  lines: readonly { choice: Choice; exact: Exact }[],
  shares: readonly SupplierShare[],
): bigint[] {
  const result = lines.map(() => 0n);
  for (const { supplier, postage, handling } of shares) {
    const own = lines.flatMap(({ choice }, at) => (choice.supplier === supplier ? [at] : []));
    const parts = sharedOut(
      toMinor(postage) + toMinor(handling),
      own.map((at) => lines[at]?.exact ?? 0n),
    );
    own.forEach((at, index) => (result[at] = parts[index] ?? 0n));
  }
  return result;
}

/** The part that is bought; of a kit the first in it that is needed. */
function partOf(offer: Offer, requirements: ReadonlySet<string>): string {
  const parts = offerParts(offer).map(({ part }) => part);
  return parts.find((part) => requirements.has(`part:${part}`)) ?? parts[0] ?? '';
}

function amountOf(offer: Offer, units: number): Purchase['bought'] {
  switch (offer.form) {
    case 'metre': {
      const lengthMm = units * offer.stepMm;
      const reached = offer.breaks?.findLast(({ fromMm }) => fromMm <= lengthMm);
      return { form: 'metre', lengthMm, pricePerMetre: reached?.pricePerMetre ?? offer.pricePerMetre };
    }
    case 'pack':
      return {
        form: 'pack',
        packs: units,
        packCount: offer.packCount,
        pieces: units * offer.packCount,
        packPrice: packPriceAt(offer, units),
      };
    case 'length':
      return {
        form: 'length',
        packs: units,
        nominalMm: offer.nominalMm,
        usableMm: usableMm(offer),
        packPrice: packPriceAt(offer, units),
      };
    case 'kit':
      return { form: 'kit', packs: units, contents: offer.contents, packPrice: packPriceAt(offer, units) };
  }
}

function packPriceAt(offer: Exclude<Offer, { form: 'metre' }>, packs: number) {
  return offer.breaks?.findLast(({ fromPacks }) => fromPacks <= packs)?.packPrice ?? offer.packPrice;
}
