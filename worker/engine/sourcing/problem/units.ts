import type { Exact } from '../../units/money.ts';
import type { Choice } from './problem.ts';

/** The fewest units that are sold and give at least so many; undefined where there are not so many. */
export function unitsAtLeast(choice: Choice, units: number): number | undefined {
  const fewest = Math.max(units, choice.tiers[0]?.fromUnits ?? 1);
  const stepped = Math.ceil(fewest / choice.step) * choice.step;
  return choice.mostUnits !== undefined && stepped > choice.mostUnits ? undefined : stepped;
}

/** What a unit costs where so many are bought. */
export function priceAt(choice: Choice, units: number): Exact {
  return choice.tiers.reduce(
    (price, tier) => (tier.fromUnits <= units ? tier.price : price),
    choice.tiers[0]?.price ?? 0n,
  );
}

export function lineCost(choice: Choice, units: number): Exact {
  return units === 0 ? 0n : priceAt(choice, units) * BigInt(units);
}

/** What a unit gives to a requirement. */
export function eachFor(choice: Choice, requirement: number): number {
  return choice.serves.find((served) => served.requirement === requirement)?.each ?? 0;
}

/** The most that a choice can give to a requirement: all its stock, without end where none is stated. */
export function capacityFor(choice: Choice, requirement: number): number {
  return choice.mostUnits === undefined ? Infinity : choice.mostUnits * eachFor(choice, requirement);
}

/** The longest piece that can come out of one length of a choice. */
export function longestFrom(choice: Choice, requirement: number): number {
  return choice.form === 'metre' ? capacityFor(choice, requirement) : eachFor(choice, requirement);
}
