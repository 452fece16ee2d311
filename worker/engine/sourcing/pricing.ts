import { unitsToCover } from '../units/decimal.ts';
import type { Exact } from '../units/money.ts';
import type { Band, Choice, Demand, Plan, Problem } from './problem.ts';

/** What one supplier's share of a plan comes to. */
export interface SupplierShare {
  supplier: number;
  goods: Exact;
  postage: Exact;
}

/** The shares of the suppliers from whom anything is bought, in the problem's order. */
export function sharesOf(problem: Problem, plan: Plan): SupplierShare[] {
  const goods = new Map<number, Exact>();
  problem.choices.forEach((choice, index) => {
    const units = plan[index] ?? 0;
    if (units > 0)
      goods.set(choice.supplier, (goods.get(choice.supplier) ?? 0n) + choice.price * BigInt(units));
  });
  return problem.suppliers.flatMap(({ bands }, supplier) => {
    const value = goods.get(supplier);
    return value === undefined ? [] : [{ supplier, goods: value, postage: chargeFor(bands, value) }];
  });
}

/** The charge of the band in which the goods' value lies; a value exactly at a band's start is in that band. */
export function chargeFor(bands: readonly Band[], goods: Exact): Exact {
  return bands.reduce((charge, band) => (band.from <= goods ? band.charge : charge), 0n);
}

/** Delivered cost of a plan, unrounded. */
export function costOf(problem: Problem, plan: Plan): Exact {
  return sharesOf(problem, plan).reduce((sum, share) => sum + share.goods + share.postage, 0n);
}

/** An exact fraction with a positive denominator. */
export interface Fraction {
  over: bigint;
  under: bigint;
}

/** Σ (bought − needed) / needed over the demands: what is bought too much, each in shares of its need. */
export function wasteOf(problem: Problem, plan: Plan): Fraction {
  const surplus = problem.demands.map((demand) => ({
    over: BigInt(boughtFor(problem, plan, demand) - demand.need),
    under: BigInt(demand.need),
  }));
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

/** Pieces or millimetres that the plan buys for a demand. */
function boughtFor(problem: Problem, plan: Plan, demand: Demand): number {
  return demand.choices.reduce(
    (sum, choice) => sum + (problem.choices[choice]?.unit ?? 0) * (plan[choice] ?? 0),
    0,
  );
}

/** From how many suppliers the plan buys. */
export function suppliersIn(problem: Problem, plan: Plan): number {
  return sharesOf(problem, plan).length;
}

/** Units of a choice that cover a demand alone. */
export function unitsAlone(choice: Choice, need: number): number {
  return Math.max(choice.minUnits, unitsToCover(need, choice.unit));
}

/** The greatest amount of which every price and charge is a whole multiple; 1 where all are zero. */
export function grain(problem: Problem): Exact {
  const amounts = [
    ...problem.choices.map((choice) => choice.price),
    ...problem.suppliers.flatMap(({ bands }) => bands.map((band) => band.charge)),
  ];
  return amounts.reduce(gcd, 0n) || 1n;
}

export function gcd(a: bigint, b: bigint): bigint {
  let [big, small] = [a, b];
  while (small !== 0n) [big, small] = [small, big % small];
  return big;
}
