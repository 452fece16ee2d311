import type { Choice } from '../../../worker/engine/sourcing/problem/problem.ts';
import type { CountedRequirement, Offered } from './counted.ts';

/** For a price one gets so many pieces, or more. */
export interface Step {
  pieces: number;
  price: bigint;
}

/** Goods of one offer, at the supplier's stated price. */
export function valueOf({ tiers }: Choice, units: number): bigint {
  let price = 0n;
  for (const tier of tiers) if (tier.fromUnits <= units) price = tier.price;
  return price * BigInt(units);
}

/**
 * Amounts of an offer that can be the cheapest to get any number of pieces up to the need: all that are sold up to the need
 * alone, and beyond it the first at each price, as more at one price cost more.
 */
function amountsFor({ tiers, step, mostUnits = Infinity }: Choice, each: number, need: number): number[] {
  const amounts = new Set<number>();
  const add = (units: number) => {
    if (units <= mostUnits) amounts.add(units);
  };
  const soldFrom = (units: number) => Math.ceil(units / step) * step;
  const first = soldFrom(tiers[0]?.fromUnits ?? 1);
  for (let units = first; ; units += step) {
    add(units);
    if (units * each >= need || units > mostUnits) break;
  }
  for (const { fromUnits } of tiers) if (fromUnits * each > need) add(soldFrom(fromUnits));
  return [...amounts];
}

/**
 * All ways to buy some of a supplier's offers for a requirement, by what they cost: those that no other does better than. With some
 * of one offer, by its place among all choices, where that must be.
 */
export function stepsOf(
  { offers }: Offered,
  need: number,
  priceOf: (choice: Choice, units: number, place: number) => bigint,
  must?: number,
): Step[] {
  let least = new Array<bigint | undefined>(need + 1).fill(undefined);
  const mustFirst = [...offers].sort((a, b) => Number(b.place === must) - Number(a.place === must));
  for (const [at, { place, choice, each }] of mustFirst.entries()) {
    const next = least.slice();
    const isAlone = must === undefined || at === 0;
    for (const units of amountsFor(choice, each, need)) {
      const price = priceOf(choice, units, place);
      if (isAlone) lower(next, Math.min(need, units * each), price);
      least.forEach((before, pieces) => {
        if (before !== undefined) lower(next, Math.min(need, pieces + units * each), before + price);
      });
    }
    least = next;
  }
  return best(least.flatMap((price, pieces) => (price === undefined ? [] : [{ pieces, price }])));
}

/** Those that give more than any that costs no more. */
export function best(steps: readonly Step[]): Step[] {
  const kept: Step[] = [];
  const sorted = [...steps].sort((a, b) => b.pieces - a.pieces);
  for (const step of sorted) {
    const last = kept.at(-1);
    if (!last || step.price < last.price) {
      if (last?.pieces === step.pieces) kept.pop();
      kept.push(step);
    }
  }
  return kept;
}

/**
 * The least that a requirement costs out of steps of each supplier, one of each at the most, and one of that which must be, by its
 * place; undefined where they are not enough.
 */
export function leastFor(
  { needs, offered }: CountedRequirement,
  steps: readonly (readonly Step[])[],
  must?: number,
): bigint | undefined {
  const need = needs.at(-1) ?? 0;
  let least = new Array<bigint | undefined>(need + 1).fill(undefined);
  least[0] = 0n;
  for (let stage = 0; stage < needs.length; stage++) {
    offered.forEach((one, at) => {
      if (one.stage !== stage) return;
      const next = at === must ? least.map(() => undefined) : least.slice();
      for (const { pieces, price } of steps[at] ?? [])
        least.forEach((before, given) => {
          if (before !== undefined) lower(next, Math.min(need, given + pieces), before + price);
        });
      least = next;
    });
    least = least.map((price, given) => (given < (needs[stage] ?? 0) ? undefined : price));
  }
  return least[need];
}

function lower(list: (bigint | undefined)[], at: number, price: bigint): void {
  const known = list[at];
  if (known === undefined || price < known) list[at] = price;
}
