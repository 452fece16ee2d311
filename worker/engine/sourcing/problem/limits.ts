import { firstFit } from '../../cutting/firstFit.ts';
import { addTo } from '../../model/group.ts';
import { unitsToCover } from '../../units/decimal.ts';
import type { Exact } from '../../units/money.ts';
import { ceilDiv, lastFallingWeight, lastThreshold, mostSaved } from './bands.ts';
import type { Band, Choice, Cover, Requirement } from './problem.ts';
import { eachFor, lineCost, unitsAtLeast } from './units.ts';

/** What is to be met: requirements by pieces or one length, and covers by sums. */
export interface Required {
  requirements: readonly Requirement[];
  /** What one unit of the choice adds to a cover, and what the cover asks for in all. */
  covers: readonly { each: number; need: number }[];
}

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
 * requirements alone, or, where a threshold or a minimum order is to be reached, as many as reach it alone.
 */
export function limitsOf(choice: Choice, { requirements, covers }: Required, bands: readonly Band[]): Limits {
  const needed = [
    ...choice.serves.map(({ requirement }) => unitsAlone(choice, requirement, requirements)),
    ...covers.map(({ each, need }) => unitsToCover(need, each)),
  ].reduce((most, units) => Math.max(most, units), 1);
  const stock = choice.mostUnits ?? Infinity;
  const alone = Math.min(unitsAtLeast(choice, needed) ?? stock, stock);
  const least = lineCost(choice, alone);
  const plain = choice.tiers.reduce(
    (most, { fromUnits }) => (fromUnits > most && lineCost(choice, fromUnits) <= least ? fromUnits : most),
    alone,
  );
  const threshold = lastThreshold(bands);
  const heavier = unitsToWeigh(choice, lastFallingWeight(bands));
  if (threshold === 0n && heavier === 0) return { alone, plain, most: plain };
  const reaching = choice.tiers.map((_, at) => unitsReaching(choice, at, threshold, alone));
  const reachCosts = reaching.flatMap((units) => (units === undefined ? [] : [lineCost(choice, units)]));
  const reachCost = reachCosts.reduce<Exact | undefined>(lesser, undefined);
  // Whoever must reach a minimum order pays that at the least; a lower charge may save on top of either.
  const mustReach = bands.every(({ from }) => from > 0n);
  const paid = mustReach ? reachCost : lesser(reachCost, least);
  const budget = paid === undefined ? undefined : paid + mostSaved(bands);
  const most = choice.tiers.map((_, at) =>
    mostAt(choice, at, reaching[at], Math.max(alone, heavier), budget),
  );
  return { alone, plain, most: Math.max(plain, ...most) };
}

function lesser(a: Exact | undefined, b: Exact): Exact {
  return a !== undefined && a < b ? a : b;
}

/** The last units that are sold at a tier's price. */
function tierEnd({ tiers, step, mostUnits = Infinity }: Choice, at: number): number {
  const next = tiers[at + 1];
  return next ? next.fromUnits - step : mostUnits;
}

/** The fewest units at a tier's price that meet the requirements and are worth a threshold alone; undefined where none are. */
function unitsReaching(choice: Choice, at: number, threshold: Exact, alone: number): number | undefined {
  const tier = choice.tiers[at];
  if (!tier || (tier.price === 0n && threshold > 0n)) return undefined;
  const worth = tier.price === 0n ? 0 : Number(ceilDiv(threshold, tier.price));
  const units = Math.ceil(Math.max(worth, tier.fromUnits, alone) / choice.step) * choice.step;
  return units <= tierEnd(choice, at) ? units : undefined;
}

/**
 * Most units at a tier's price that can be worth buying: no more than reach the threshold, or the weight, alone, and for no
 * more than the budget. 0 where the tier is of no use.
 */
function mostAt(
  choice: Choice,
  at: number,
  reaching: number | undefined,
  useful: number,
  budget: Exact | undefined,
): number {
  const tier = choice.tiers[at];
  if (!tier) return 0;
  const { step } = choice;
  const end = tierEnd(choice, at);
  const enough = tier.price === 0n ? useful : (reaching ?? end);
  const stepped = Math.ceil(Math.max(enough, useful, tier.fromUnits) / step) * step;
  const afford =
    budget === undefined || tier.price === 0n
      ? Infinity
      : Math.floor(Number(budget / tier.price) / step) * step;
  const most = Math.min(end, stepped, afford);
  return Number.isFinite(most) && most >= tier.fromUnits ? most : 0;
}

/** Units that weigh so much by themselves; 0 where weight is of no use. */
function unitsToWeigh({ microgramsPerUnit, step }: Choice, micrograms: number): number {
  if (micrograms === 0 || microgramsPerUnit === 0) return 0;
  return Math.ceil(micrograms / microgramsPerUnit / step) * step;
}

/** The covers that choices add to, by choice. */
export function coversByChoice(covers: readonly Cover[]): Map<number, Required['covers'][number][]> {
  const byChoice = new Map<number, Required['covers'][number][]>();
  for (const { members, gives } of covers) {
    const need = members.reduce((sum, member) => sum + member.need, 0);
    for (const { choice, each } of gives) addTo(byChoice, choice, { each, need });
  }
  return byChoice;
}

/** Units that meet a requirement with this choice alone; of fixed lengths, those that hold all pieces that fit. */
function unitsAlone(choice: Choice, index: number, requirements: readonly Requirement[]): number {
  const requirement = requirements[index];
  if (!requirement || requirement.how === 'sum') return 1;
  const each = eachFor(choice, index);
  return requirement.how === 'cut' && choice.form === 'length'
    ? firstFit(each, requirement.pieces).lengths.length
    : unitsToCover(requirement.need, each);
}
