import { toMinor, type Exact } from '../units/money.ts';
import type { Band, Demand, Plan, Problem } from './problem.ts';
import { eachFor, lineCost } from './units.ts';

/** What one supplier's share of a plan comes to. */
export interface SupplierShare {
  supplier: number;
  goods: Exact;
  micrograms: number;
  postage: Exact;
  handling: Exact;
}

/** The shares of the suppliers from whom anything is bought, in the problem's order. */
export function sharesOf(problem: Problem, { units }: Pick<Plan, 'units'>): SupplierShare[] {
  const sums = new Map<number, { goods: Exact; micrograms: number }>();
  problem.choices.forEach((choice, index) => {
    const bought = units[index] ?? 0;
    if (bought === 0) return;
    const sum = sums.get(choice.supplier) ?? { goods: 0n, micrograms: 0 };
    sum.goods += lineCost(choice, bought);
    sum.micrograms += choice.microgramsPerUnit * bought;
    sums.set(choice.supplier, sum);
  });
  return problem.suppliers.flatMap(({ bands, handling }, supplier) => {
    const sum = sums.get(supplier);
    if (!sum) return [];
    return [{ supplier, ...sum, postage: chargeFor(bands, sum.goods, sum.micrograms) - handling, handling }];
  });
}

/**
 * The charge of the band in which value and weight lie; one exactly at a band's start is in that band. Goods below every
 * band are topped up to where the first begins: what a minimum order comes to for a buyer who cannot leave it.
 */
export function chargeFor(bands: readonly Band[], goods: Exact, micrograms: number): Exact {
  if (bands.length === 0) return 0n;
  const least = bands.reduce((from, band) => (band.from < from ? band.from : from), bands[0]?.from ?? 0n);
  const value = goods < least ? least : goods;
  const band = bands.find((candidate) => isWithin(candidate, value, micrograms));
  return (band?.charge ?? 0n) + (value - goods);
}

function isWithin(band: Band, goods: Exact, micrograms: number): boolean {
  return (
    band.from <= goods &&
    (band.below === undefined || goods < band.below) &&
    band.fromMicrograms <= micrograms &&
    (band.belowMicrograms === undefined || micrograms < band.belowMicrograms)
  );
}

/** Delivered cost of a plan, unrounded. */
export function costOf(problem: Problem, plan: Pick<Plan, 'units'>): Exact {
  return sharesOf(problem, plan).reduce(
    (sum, share) => sum + share.goods + share.postage + share.handling,
    0n,
  );
}

/** What a plan comes to as it is paid, minor units: each supplier's total rounded once. */
export function paidFor(problem: Problem, plan: Pick<Plan, 'units'>): bigint {
  return sharesOf(problem, plan).reduce(
    (sum, share) => sum + toMinor(share.goods + share.postage + share.handling),
    0n,
  );
}

/** Whether a supplier takes its order: it is not below its minimum. */
export function takes(problem: Problem, { supplier, goods, micrograms }: SupplierShare): boolean {
  const bands = problem.suppliers[supplier]?.bands ?? [];
  return bands.length === 0 || bands.some((band) => isWithin(band, goods, micrograms));
}

export function isOrderable(problem: Problem, plan: Pick<Plan, 'units'>): boolean {
  return sharesOf(problem, plan).every((share) => takes(problem, share));
}

/** An exact fraction with a positive denominator. */
export interface Fraction {
  over: bigint;
  under: bigint;
}

/** Σ (bought − needed) / needed over the demands that are met: what is bought too much, each in shares of its need. */
export function wasteOf(problem: Problem, plan: Plan): Fraction {
  const unmet = new Set(plan.unmet);
  const surplus = problem.demands.flatMap((demand, index) =>
    unmet.has(index)
      ? []
      : [{ over: BigInt(boughtFor(problem, plan, index, demand) - demand.need), under: BigInt(demand.need) }],
  );
  return sumOf(surplus);
}

/** Sums pairwise, so that the denominators stay short for as long as they can. */
function sumOf(fractions: Fraction[]): Fraction {
  if (fractions.length <= 1) return fractions[0] ?? { over: 0n, under: 1n };
  const middle = fractions.length >> 1;
  const a = sumOf(fractions.slice(0, middle));
  const b = sumOf(fractions.slice(middle));
  const over = a.over * b.under + b.over * a.under;
  const under = a.under * b.under;
  const shared = gcd(over < 0n ? -over : over, under);
  return { over: over / shared, under: under / shared };
}

export function compareFractions(a: Fraction, b: Fraction): number {
  const difference = a.over * b.under - b.over * a.under;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** Pieces or usable millimetres that the plan buys for a demand. */
export function boughtFor(problem: Problem, { units }: Plan, index: number, demand: Demand): number {
  return demand.choices.reduce((sum, at) => {
    const choice = problem.choices[at];
    return choice ? sum + eachFor(choice, index) * (units[at] ?? 0) : sum;
  }, 0);
}

/** From how many suppliers the plan buys. */
export function suppliersIn(problem: Problem, plan: Plan): number {
  return sharesOf(problem, plan).length;
}

/** The greatest amount of which every price and charge is a whole multiple; 1 where all are zero. */
export function grain(problem: Problem): Exact {
  const amounts = [
    ...problem.choices.flatMap(({ tiers }) => tiers.map(({ price }) => price)),
    ...problem.suppliers.flatMap(({ bands }) => bands.map((band) => band.charge)),
  ];
  return amounts.reduce(gcd, 0n) || 1n;
}

export function gcd(a: bigint, b: bigint): bigint {
  let [big, small] = [a, b];
  while (small !== 0n) [big, small] = [small, big % small];
  return big;
}
