import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import { exactToAmount } from '../units/money.ts';
import { choiceOf, givenBy, withoutWeight } from './choices.ts';
import { termsOf } from './deliveryBands.ts';
import { demandOf } from './demands.ts';
import type { Choice, Demand, Problem, SupplierTerms } from './problem.ts';
import { lineCost } from './units.ts';
import { unsourcedLines } from './unsourced.ts';
import { offersFor, type OffersFor } from './usableOffers.ts';

export interface Compiled {
  problem: Problem;
  /** Whether a requirement is unsourced only because no way of cutting it was found: then nothing is proven. */
  untried: boolean;
  /** By the place of a demand in the problem: the requirement that it is of. */
  sourced: Requirement[];
  unsourced: Unsourced[];
  findings: Finding[];
}

type Terms = Pick<SettingValues, 'oneColourOneSupplier' | 'conditionsAccepted'>;

/** A normalised job's requirements, offers and suppliers as a problem to solve; what no offer meets is unsourced. */
export function compile(job: Job, requirements: readonly Requirement[], terms: Terms): Compiled {
  const offers = offersFor(job, requirements, terms.conditionsAccepted);
  const sellers = new Set(offers.usable.map(({ offer }) => offer.supplier));
  const sending = job.suppliers.filter((supplier) => sellers.has(supplier.code));
  const suppliers = sending.map(termsOf);
  const shut = beyondReach(job, offers, suppliers);
  const untried: string[] = [];
  const problem = problemOf(job, requirements, offers, suppliers, shut, terms, untried);
  const met = new Set(problem.demands.map(({ requirement }) => requirement));
  const byId = new Map(requirements.map((requirement) => [requirement.id, requirement]));
  return {
    problem,
    untried: untried.length > 0,
    sourced: problem.demands.flatMap(({ requirement }) => byId.get(requirement) ?? []),
    unsourced: unsourcedLines(
      requirements.filter((requirement) => !met.has(requirement.id)),
      job,
      offers.refused,
    ),
    findings: [...offers.findings, ...shut.values(), ...weightsMissing(job, offers)],
  };
}

function problemOf(
  job: Job,
  requirements: readonly Requirement[],
  offers: OffersFor,
  suppliers: readonly SupplierTerms[],
  shut: ReadonlyMap<string, Finding>,
  { oneColourOneSupplier }: Terms,
  untried: string[],
): Problem {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const supplierAt = new Map(suppliers.map((supplier, index) => [supplier.code, index]));
  const placeOf = new Map(requirements.map(({ id }, index) => [id, index]));
  const choices: Choice[] = [];
  const serving = new Map<number, number[]>();
  for (const { offer, serves } of offers.usable) {
    if (shut.has(offer.supplier)) {
      for (const { requirement } of serves)
        addTo(
          offers.refused,
          requirement.id,
          `offer ${offer.code}: its supplier’s minimum order is out of reach`,
        );
      continue;
    }
    const bare = choiceOf(offer, supplierAt.get(offer.supplier) ?? 0, parts);
    if (!bare) continue;
    for (const { requirement } of serves) addTo(serving, placeOf.get(requirement.id) ?? 0, choices.length);
    choices.push({
      ...bare,
      serves: serves.map(({ requirement, part }) => ({
        demand: placeOf.get(requirement.id) ?? 0,
        each: givenBy(offer, part),
      })),
    });
  }
  const demands = requirements.map((requirement, index) => {
    const own = serving.get(index) ?? [];
    const demand =
      own.length === 0 ? undefined : demandOf(requirement, index, choices, own, oneColourOneSupplier);
    if (own.length > 0 && !demand)
      addTo(offers.refused, requirement.id, 'what can be had of it is not enough, in stock or in one length');
    if (demand !== 'untried') return demand;
    untried.push(requirement.id);
    addTo(offers.refused, requirement.id, 'none of the ways of cutting that were tried gives all its pieces');
    return undefined;
  });
  return compacted(demands, choices, suppliers);
}

/** Demands that can be met, and the choices that serve one of them, with their places renumbered. */
export function compacted(
  demands: readonly (Demand | undefined)[],
  choices: readonly Choice[],
  suppliers: readonly SupplierTerms[],
): Problem {
  const demandAt = new Map<number, number>();
  demands.forEach((demand, index) => demand && demandAt.set(index, demandAt.size));
  const kept = new Set(demands.flatMap((demand) => demand?.choices ?? []));
  const choiceAt = new Map<number, number>();
  choices.forEach((_, index) => kept.has(index) && choiceAt.set(index, choiceAt.size));
  const place = (choice: number) => choiceAt.get(choice) ?? 0;
  return {
    suppliers,
    choices: choices.flatMap((choice, index): Choice[] => {
      if (!kept.has(index)) return [];
      const serves = choice.serves.flatMap(({ demand, each }) => {
        const at = demandAt.get(demand);
        return at !== undefined && demands[demand]?.choices.includes(index) ? [{ demand: at, each }] : [];
      });
      return [{ ...choice, serves }];
    }),
    demands: demands.flatMap((demand): Demand[] =>
      demand
        ? [
            {
              ...demand,
              choices: demand.choices.map(place),
              patterns:
                demand.patterns &&
                new Map([...demand.patterns].map(([choice, patterns]) => [place(choice), patterns])),
              ways: demand.ways.map((way) => ({
                units: way.units.map(({ choice, units }) => ({ choice: place(choice), units })),
                cuts: way.cuts.map((cut) => ({ ...cut, choice: place(cut.choice) })),
              })),
            },
          ]
        : [],
    ),
  };
}

/** Suppliers whose minimum order all that they have in stock of what is needed does not reach. */
function beyondReach(
  job: Job,
  { usable }: OffersFor,
  suppliers: readonly SupplierTerms[],
): Map<string, Finding> {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const shut = new Map<string, Finding>();
  for (const { code, bands } of suppliers) {
    const least = bands.reduce<bigint | undefined>(
      (from, band) => (from === undefined || band.from < from ? band.from : from),
      undefined,
    );
    if (least === undefined || least === 0n) continue;
    const own = usable.flatMap(({ offer }) =>
      offer.supplier === code ? (choiceOf(offer, 0, parts) ?? []) : [],
    );
    const endless = own.some(
      (choice) => choice.mostUnits === undefined && choice.tiers.some(({ price }) => price > 0n),
    );
    const most = own.reduce((sum, choice) => sum + dearest(choice), 0n);
    if (endless || most >= least) continue;
    const index = job.suppliers.findIndex((supplier) => supplier.code === code);
    const { currency } = job.club;
    shut.set(code, {
      code: 'minimum-order-out-of-reach',
      severity: 'warning',
      at: pointer(['suppliers', index, 'minimumOrder']),
      where: `supplier ${code}`,
      found: `goods of at most ${exactToAmount(most, currency)} ${currency}, all that it has of what is needed`,
      limit: `at least ${exactToAmount(least, currency)} ${currency}`,
      todo: 'Nothing is bought there. Enter more of its offers, or its stock as it is now.',
    });
  }
  return shut;
}

/** The most that an offer with a limited stock can come to. */
function dearest(choice: Omit<Choice, 'serves'>): bigint {
  const most = choice.mostUnits ?? 0;
  const whole = { ...choice, serves: [] };
  return choice.tiers.reduce((best, tier, index) => {
    const next = choice.tiers[index + 1];
    const units = next ? next.fromUnits - choice.step : most;
    const cost = lineCost(whole, Math.max(units, tier.fromUnits));
    return cost > best ? cost : best;
  }, 0n);
}

/** Offers of a supplier that posts by weight, of parts whose weight is not known: they count nothing. */
function weightsMissing(job: Job, { usable }: OffersFor): Finding[] {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const weighing = new Set(
    job.suppliers.filter(({ postage }) => postage?.by === 'weight').map(({ code }) => code),
  );
  const missing = new Map<string, Set<string>>();
  for (const { offer } of usable)
    if (weighing.has(offer.supplier))
      for (const code of withoutWeight(offer, parts))
        missing.set(offer.supplier, (missing.get(offer.supplier) ?? new Set()).add(code));
  return [...missing].map(([supplier, codes]) => ({
    code: 'weight-not-known',
    severity: 'warning',
    at: pointer(['suppliers', job.suppliers.findIndex(({ code }) => code === supplier), 'postage']),
    where: `supplier ${supplier}`,
    found: `${codes.size} of its parts have no weight: ${[...codes].slice(0, 5).join(', ')}${codes.size > 5 ? ', …' : ''}`,
    todo: 'Postage goes by weight there, and these count nothing: it may come out too low. Give the parts a weight (weightG, or gramsPerM of what is sold by length).',
  }));
}
