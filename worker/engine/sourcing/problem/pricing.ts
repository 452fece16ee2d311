import { fraction, gcd, sumOf, type Fraction } from '../../units/fraction.ts';
import { toMinor, type Exact } from '../../units/money.ts';
import { isActive, type Band, type Charge, type ChargeKind, type Plan, type Problem } from './problem.ts';
import { lineCost } from './units.ts';

/** What one supplier's share of a plan comes to: one parcel. Costs are in the problem's scale. */
export interface SupplierShare {
  supplier: number;
  /** At the stated prices, in the supplier's currency, exact. */
  goods: Exact;
  micrograms: number;
  /** The rate and charges of its band. */
  rate: bigint;
  charges: readonly Charge[];
  /** Goods that are missing to the least order, as they are charged all the same. */
  missing: Exact;
  cost: Exact;
}

/** The shares of the suppliers from whom anything is bought, in the problem's order. */
export function sharesOf(
  problem: Pick<Problem, 'choices' | 'suppliers'>,
  { units }: Pick<Plan, 'units'>,
): SupplierShare[] {
  const sums = new Map<number, { goods: Exact; micrograms: number }>();
  problem.choices.forEach((choice, index) => {
    const bought = units[index] ?? 0;
    if (bought === 0) return;
    const sum = sums.get(choice.supplier) ?? { goods: 0n, micrograms: 0 };
    sum.goods += lineCost(choice, bought);
    sum.micrograms += choice.microgramsPerUnit * bought;
    sums.set(choice.supplier, sum);
  });
  return problem.suppliers.flatMap(({ bands }, supplier): SupplierShare[] => {
    const sum = sums.get(supplier);
    if (!sum) return [];
    const { goods, micrograms } = sum;
    const value = goods < leastOrder(bands) ? leastOrder(bands) : goods;
    const band = bandFor(bands, value, micrograms) ?? NO_BAND;
    return [
      {
        supplier,
        ...sum,
        rate: band.rate,
        charges: band.charges,
        missing: value - goods,
        cost: band.charge + band.rate * value,
      },
    ];
  });
}

const NO_BAND: Pick<Band, 'charge' | 'rate' | 'charges'> = { charge: 0n, rate: 0n, charges: [] };

/** What the least order is worth; a parcel of less is charged as one of so much. */
export function leastOrder(bands: readonly Band[]): Exact {
  return bands.reduce((from, band) => (band.from < from ? band.from : from), bands[0]?.from ?? 0n);
}

/** The band in which value and weight lie; one exactly at a band's start is in that band. */
export function bandFor(bands: readonly Band[], goods: Exact, micrograms: number): Band | undefined {
  return bands.find((band) => isWithin(band, goods, micrograms));
}

function isWithin(band: Band, goods: Exact, micrograms: number): boolean {
  return (
    band.from <= goods &&
    (band.below === undefined || goods < band.below) &&
    band.fromMicrograms <= micrograms &&
    (band.belowMicrograms === undefined || micrograms < band.belowMicrograms)
  );
}

/** What a parcel costs of these kinds; none named: of all. In the problem's scale. */
export function chargedOf({ goods, charges }: SupplierShare, ...kinds: ChargeKind[]): Exact {
  return charges
    .filter(({ kind }) => kinds.length === 0 || kinds.includes(kind))
    .reduce((sum, { fixed, rate }) => sum + fixed + rate * goods, 0n);
}

/** What a parcel costs as it is paid: all but what it counts as a nuisance. */
export function paidShare(share: SupplierShare): Exact {
  return share.cost - chargedOf(share, 'nuisance');
}

/** Delivered cost of a plan, unrounded, in the problem's scale; what parcels count as nuisances included. */
export function costOf(problem: Problem, plan: Pick<Plan, 'units'>): Exact {
  return sharesOf(problem, plan).reduce((sum, { cost }) => sum + cost, 0n);
}

/** What a plan comes to as it is paid, minor units: each parcel's total rounded once. */
export function paidFor(problem: Problem, plan: Pick<Plan, 'units'>): bigint {
  return sharesOf(problem, plan).reduce((sum, share) => sum + toMinor(paidShare(share), problem.scale), 0n);
}

/** Whether a supplier takes its order: it is not below its minimum. */
export function takes(problem: Problem, { supplier, goods, micrograms }: SupplierShare): boolean {
  return bandFor(problem.suppliers[supplier]?.bands ?? [], goods, micrograms) !== undefined;
}

/** What a line costs where its supplier charges least, in the problem's scale: for comparing lines of different suppliers. */
export function leastCost(problem: Problem, choice: number, units: number): Exact {
  const chosen = problem.choices[choice];
  return chosen ? lineCost(chosen, units) * leastRate(problem.suppliers[chosen.supplier]?.bands ?? []) : 0n;
}

function leastRate(bands: readonly Band[]): bigint {
  return bands.reduce((least, { rate }) => (rate < least ? rate : least), bands[0]?.rate ?? 0n);
}

/** Σ (bought − needed) / needed over the pools: what is bought too much, each in shares of all that it may have to meet. */
export function wasteOf(problem: Problem, plan: Plan): Fraction {
  const unmet = new Set(plan.unmet);
  const isMet = (index: number) => {
    const requirement = problem.requirements[index];
    return requirement !== undefined && !unmet.has(index) && isActive(requirement, plan.options);
  };
  return sumOf(
    problem.pools.map(({ requirements, need, gives }) => {
      const bought = gives.reduce((sum, { choice, each }) => sum + each * (plan.units[choice] ?? 0), 0);
      const met = requirements.reduce(
        (sum, index) => sum + (isMet(index) ? (problem.requirements[index]?.need ?? 0) : 0),
        0,
      );
      return fraction(BigInt(bought - met), BigInt(need));
    }),
  );
}

/** How many parcels a plan has sent. */
export function parcelsIn(problem: Problem, plan: Pick<Plan, 'units'>): number {
  return sharesOf(problem, plan).filter(({ supplier }) => problem.suppliers[supplier]?.own === false).length;
}

/** The suppliers from whom a plan buys, by code. */
export function suppliersIn(problem: Problem, plan: Pick<Plan, 'units'>): Set<string> {
  return new Set(
    sharesOf(problem, plan).flatMap(({ supplier }) => {
      const terms = problem.suppliers[supplier];
      return terms && !terms.own ? [terms.code] : [];
    }),
  );
}

/** The greatest amount of which every cost is a whole multiple; 1 where all are zero. */
export function grain(problem: Problem): Exact {
  const prices = problem.suppliers.map(() => 0n);
  for (const { supplier, tiers } of problem.choices)
    for (const { price } of tiers) prices[supplier] = gcd(prices[supplier] ?? 0n, price);
  const amounts = problem.suppliers.flatMap(({ bands }, supplier) =>
    bands.flatMap(({ charge, rate }) => [charge, rate * (prices[supplier] ?? 0n)]),
  );
  return amounts.reduce(gcd, 0n) || 1n;
}
