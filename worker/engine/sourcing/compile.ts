import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import type { Offer } from '../model/offer.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import type { Supplier } from '../model/supplier.ts';
import { unitsToCover } from '../units/decimal.ts';
import { exactFromAmount, priceTimesMm } from '../units/money.ts';
import type { Choice, Demand, Problem, SupplierTerms } from './problem.ts';
import { unsourcedLines } from './unsourced.ts';
import { offersFor } from './usableOffers.ts';

export interface Compiled {
  problem: Problem;
  unsourced: Unsourced[];
  findings: Finding[];
}

/** A normalised job's requirements, offers and suppliers as a problem to solve; what no offer meets is unsourced. */
export function compile(job: Job, requirements: readonly Requirement[]): Compiled {
  const { usable, refused, findings } = offersFor(job, requirements);
  const sellers = new Set(usable.map(({ offer }) => offer.supplier));
  const sending = job.suppliers.filter((supplier) => sellers.has(supplier.code));
  const supplierAt = new Map(sending.map((supplier, index) => [supplier.code, index]));
  const met = new Set(usable.map(({ requirement }) => requirement.id));
  const sourced = requirements.filter((requirement) => met.has(requirement.id));
  const demandAt = new Map(sourced.map((requirement, index) => [requirement.id, index]));
  const choices = usable.map(({ offer, requirement }) =>
    choiceOf(offer, demandAt.get(requirement.id) ?? 0, supplierAt.get(offer.supplier) ?? 0),
  );
  const served = new Map<number, number[]>();
  choices.forEach((choice, index) => addTo(served, choice.demand, index));
  return {
    problem: {
      demands: sourced.map((requirement, index) => demandOf(requirement, served.get(index) ?? [])),
      choices,
      suppliers: sending.map(termsOf),
    },
    unsourced: unsourcedLines(
      requirements.filter((requirement) => !met.has(requirement.id)),
      job,
      refused,
    ),
    findings: [...findings, ...postageNotCharged(job, sellers)],
  };
}

function demandOf(requirement: Requirement, choices: number[]): Demand {
  return requirement.kind === 'wire'
    ? { requirement: requirement.id, need: requirement.totalMm, single: true, choices }
    : { requirement: requirement.id, need: requirement.quantity, single: false, choices };
}

function choiceOf(
  offer: Extract<Offer, { form: 'pack' | 'metre' }>,
  demand: number,
  supplier: number,
): Choice {
  const common = { offer: offer.code, demand, supplier };
  if (offer.form === 'pack') {
    const price = exactFromAmount(offer.packPrice.amount, offer.packPrice.currency);
    return { ...common, unit: offer.packCount, price, minUnits: offer.minimumPacks };
  }
  const perMetre = exactFromAmount(offer.pricePerMetre.amount, offer.pricePerMetre.currency);
  return {
    ...common,
    unit: offer.stepMm,
    price: priceTimesMm(perMetre, offer.stepMm),
    minUnits: unitsToCover(offer.minimumMm, offer.stepMm),
  };
}

function termsOf(supplier: Supplier): SupplierTerms {
  const bands =
    supplier.postage?.by === 'value'
      ? supplier.postage.bands.map((band) => ({
          from: exactFromAmount(band.fromValue.amount, band.fromValue.currency),
          charge: exactFromAmount(band.charge.amount, band.charge.currency),
        }))
      : [];
  return { code: supplier.code, bands };
}

/** Postage by weight is not worked out yet: what a supplier would charge so is missing from the cost, and that is said. */
function postageNotCharged(job: Job, sellers: ReadonlySet<string>): Finding[] {
  return job.suppliers.flatMap((supplier, index): Finding[] =>
    supplier.postage?.by === 'weight' && sellers.has(supplier.code)
      ? [
          {
            code: 'postage-by-weight-not-charged',
            severity: 'warning',
            at: pointer(['suppliers', index, 'postage']),
            where: `supplier ${supplier.code}`,
            found: 'postage by weight',
            limit: 'postage by value',
            todo: `Postage by weight is not worked out yet: none is charged for ${supplier.name} here, so the true cost is higher. Enter it by value of the goods as near as you can.`,
          },
        ]
      : [],
  );
}
