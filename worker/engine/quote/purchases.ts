import type { Market } from '../job/market.ts';
import type { Job } from '../model/job.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import { metrePriceAt, packPriceAt, usableMm } from '../model/offerPrice.ts';
import type { Purchase } from '../model/result.ts';
import type { AskedRequirement } from '../sourcing/asked/requirements.ts';
import {
  isActive,
  type Choice,
  type ChargeKind,
  type Plan,
  type Problem,
} from '../sourcing/problem/problem.ts';
import { chargedOf, type SupplierShare } from '../sourcing/problem/pricing.ts';
import type { StandIn } from '../sourcing/asked/standIns.ts';
import { lineCost } from '../sourcing/problem/units.ts';
import { exactToAmount, minorToAmount, toMinor, type Exact } from '../units/money.ts';
import { sharedOut } from './sharedOut.ts';
import { standInsUsed, type StandInUsed } from './standInsUsed.ts';

/** A purchase with what the printed lines are made from. */
export interface Bought {
  purchase: Purchase;
  offer: Offer;
  /** The parcel that it comes with. */
  supplier: number;
  /** In the club's currency, in the problem's scale. */
  exact: Exact;
  /** At the prices as stated, in the supplier's currency. */
  stated: Exact;
  standIn: StandIn | undefined;
  /** All that it is bought in place of, what a kit holds and what is also bought for itself included. */
  standIns: readonly StandInUsed[];
}

/** A mix as it is written out. */
export interface Mix {
  job: Job;
  market: Market;
  problem: Problem;
  plan: Plan;
  sourced: readonly AskedRequirement[];
  shares: readonly SupplierShare[];
}

/** Charges that are shared out over the lines beside postage and handling. */
const TAXES: readonly ChargeKind[] = ['tax', 'duty', 'importTax', 'clearance'];

interface Line {
  choice: Choice;
  offer: Offer;
  units: number;
  first: number;
  others: number[];
  exact: Exact;
  stated: Exact;
}

/** What a plan buys, in the order of the requirements and then of the offers' codes, with each line's share of what its parcel costs beside the goods. */
export function boughtIn(mix: Mix): Bought[] {
  const { job, problem, sourced, shares } = mix;
  const lines = linesOf(mix);
  const postage = sharesOver(lines, shares, problem, ['postage', 'handling']);
  const taxes = sharesOver(lines, shares, problem, TAXES);
  const isTaxed = new Set(
    shares.flatMap((share) =>
      share.charges.some(({ kind }) => TAXES.includes(kind)) ? [share.supplier] : [],
    ),
  );
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const orders = new Set(problem.suppliers.flatMap(({ wave, own }) => (own ? [] : [wave]))).size;
  return lines.map(({ choice, offer, units, first, others, exact, stated }, at) => {
    const requirementAt = (requirement: number) => sourced[requirement];
    const idOf = (requirement: number) => problem.requirements[requirement]?.id ?? '';
    const requirement = requirementAt(first);
    const part = partOf(offer, requirement);
    const standIn = requirement?.parts.get(part);
    const also = [...new Set(others.map(idOf))].filter((id) => id !== idOf(first));
    const share = (postage[at] ?? 0n) + (taxes[at] ?? 0n);
    return {
      offer,
      supplier: choice.supplier,
      exact,
      stated,
      standIn,
      standIns: standInsUsed(mix, offer, [first, ...others]),
      purchase: {
        requirement: idOf(first),
        ...(also.length > 0 ? { alsoFor: also } : {}),
        offer: offer.code,
        supplier: offer.supplier,
        ...(orders > 1 ? { wave: choice.wave } : {}),
        part,
        ...(standIn && requirement?.rolledUp.kind !== 'wire'
          ? { insteadOf: requirement?.rolledUp.part }
          : {}),
        bought: amountOf(offer, units),
        exactCost: { amount: exactToAmount(exact, currency, problem.scale), currency },
        cost: money(toMinor(exact, problem.scale)),
        postageShare: money(postage[at] ?? 0n),
        ...(isTaxed.has(choice.supplier) ? { taxShare: money(taxes[at] ?? 0n) } : {}),
        delivered: money(toMinor(exact, problem.scale) + share),
      },
    };
  });
}

function linesOf({ job, problem, plan, sourced, shares }: Mix): Line[] {
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const rates = new Map(
    shares.map(({ supplier, charges }) => [
      supplier,
      charges.find(({ kind }) => kind === 'goods')?.rate ?? 0n,
    ]),
  );
  const unmet = new Set(plan.unmet);
  const lines = problem.choices.flatMap((choice, index): Line[] => {
    const units = plan.units[index] ?? 0;
    const offer = problem.suppliers[choice.supplier]?.own === true ? undefined : offers.get(choice.offer);
    if (!offer || units === 0) return [];
    const requirements = choice.serves.map(({ requirement }) => requirement);
    const met = requirements.filter((at) => {
      const requirement = problem.requirements[at];
      return requirement !== undefined && !unmet.has(at) && isActive(requirement, plan.options);
    });
    const [first = 0, ...others] = inOrder(met.length > 0 ? met : requirements, offer, sourced);
    const stated = lineCost(choice, units);
    const exact = stated * (rates.get(choice.supplier) ?? 0n);
    return [{ choice, offer, units, first, others, stated, exact }];
  });
  return lines.sort((a, b) => a.first - b.first || a.choice.wave - b.choice.wave);
}

/** What is sold for itself before what it stands in for. */
function inOrder(
  requirements: readonly number[],
  offer: Offer,
  sourced: readonly AskedRequirement[],
): number[] {
  const parts = offerParts(offer).map(({ part }) => part);
  const isItself = (requirement: number) =>
    parts.some((part) => sourced[requirement]?.rolledUp.servedBy.includes(part)) ? 0 : 1;
  return [...requirements].sort((a, b) => isItself(a) - isItself(b) || a - b);
}

/** What parcels cost of these kinds over their lines, by value: minor units. */
function sharesOver(
  lines: readonly Line[],
  shares: readonly SupplierShare[],
  { scale }: Problem,
  kinds: readonly ChargeKind[],
): bigint[] {
  const result = lines.map(() => 0n);
  for (const share of shares) {
    const own = lines.flatMap(({ choice }, at) => (choice.supplier === share.supplier ? [at] : []));
    if (own.length === 0) continue;
    const parts = sharedOut(
      kinds.reduce((sum, kind) => sum + toMinor(chargedOf(share, kind), scale), 0n),
      own.map((at) => lines[at]?.stated ?? 0n),
    );
    own.forEach((at, index) => (result[at] = parts[index] ?? 0n));
  }
  return result;
}

/** The part that is bought for a requirement; of a kit the first in it that serves it. */
function partOf(offer: Offer, requirement: AskedRequirement | undefined): string {
  const parts = offerParts(offer).map(({ part }) => part);
  return (
    parts.find((part) => requirement?.rolledUp.servedBy.includes(part)) ??
    parts.find((part) => requirement?.parts.has(part)) ??
    parts[0] ??
    ''
  );
}

function amountOf(offer: Offer, units: number): Purchase['bought'] {
  switch (offer.form) {
    case 'metre': {
      const lengthMm = units * offer.stepMm;
      return { form: 'metre', lengthMm, pricePerMetre: metrePriceAt(offer, lengthMm) };
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
