import { firstFit } from '../cutting/firstFit.ts';
import { unitsToCover } from '../units/decimal.ts';
import type { Exact } from '../units/money.ts';
import { ceilDiv, lastFallingWeight, lastThreshold, mostSaved } from './bands.ts';
import type { Band, Choice, Demand } from './problem.ts';
import { eachFor, lineCost, unitsAtLeast } from './units.ts';

/** How many units of a choice can be worth buying. */
export interface Limits {
  /** Meets alone all that the choice serves. */
  alone: number;
  /** Most without a threshold of the supplier's: more than alone only where a break makes it cheaper. */
  plain: number;
  /** Most of all. */
  most: number;
}

/**
 * Limits that some cheapest plan keeps. A plan with more units than these costs no less with fewer: those that meet the
 * needs alone, or, where a threshold or a minimum order is to be reached, as many as reach it alone.
 */
export function limitsOf(choice: Choice, demands: readonly Demand[], bands: readonly Band[]): Limits {
  const needed = Math.max(1, ...choice.serves.map(({ demand }) => unitsAlone(choice, demand, demands)));
  const stock = choice.mostUnits ?? Infinity;
  const alone = Math.min(unitsAtLeast(choice, needed) ?? stock, stock);
  const prices = choice.tiers.map(({ price }) => price);
  const positive = prices.filter((price) => price > 0n);
  const cheapest = positive.reduce((a, b) => (a < b ? a : b), positive[0] ?? 0n);
  const dearest = prices.reduce((a, b) => (a > b ? a : b));
  const starts = choice.tiers.map(({ fromUnits }) => fromUnits);
  const within = (budget: Exact) =>
    starts.reduce((most, from) => (from > most && lineCost(choice, from) <= budget ? from : most), alone);
  const plain = within(lineCost(choice, alone));
  const threshold = lastThreshold(bands);
  const heavier = unitsToWeigh(choice, lastFallingWeight(bands));
  if (threshold === 0n && heavier === 0) return { alone, plain, most: plain };
  if (cheapest === 0n) return { alone, plain, most: Math.min(stock, Math.max(plain, heavier)) };
  const saved = mostSaved(bands);
  const reaching = threshold + dearest * BigInt(choice.step);
  const minimum = bands.every(({ from }) => from > 0n);
  const least = lineCost(choice, alone);
  // Whoever must reach a minimum order pays at least that; a lower charge may save on top of it.
  const budget = (minimum ? max(least, reaching) : least) + saved;
  const units = Number(budget / cheapest);
  const stepped = Math.ceil(units / choice.step) * choice.step;
  const reach = Math.max(toReach(threshold, choice, cheapest, dearest), heavier, alone);
  return {
    alone,
    plain,
    most: Math.min(stock, Math.max(plain, Math.min(stepped, Math.max(reach, within(budget))))),
  };
}

/** Units that weigh so much by themselves; 0 where weight is of no use. */
function unitsToWeigh({ microgramsPerUnit, step }: Choice, micrograms: number): number {
  if (micrograms === 0 || microgramsPerUnit === 0) return 0;
  return Math.ceil(micrograms / microgramsPerUnit / step) * step;
}

/** Units that are worth a threshold at any of the prices; several prices leave a step more to choose from. */
function toReach(threshold: Exact, { tiers, step }: Choice, cheapest: Exact, dearest: Exact): number {
  const slack = tiers.length > 1 ? dearest * BigInt(step) : 0n;
  const units = Number(ceilDiv(threshold + slack, cheapest));
  return Math.ceil(units / step) * step;
}

/** Units that meet a demand with this choice alone; of fixed lengths, those that hold all pieces that fit. */
function unitsAlone(choice: Choice, index: number, demands: readonly Demand[]): number {
  const demand = demands[index];
  if (!demand) return 1;
  const each = eachFor(choice, index);
  return demand.how === 'cut' && choice.form === 'length'
    ? firstFit(each, demand.pieces).lengths.length
    : unitsToCover(demand.need, each);
}

function max(a: Exact, b: Exact): Exact {
  return a > b ? a : b;
}
