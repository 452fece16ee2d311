import type { BuildOrBuy, Combination } from '../../engine/model/buildOrBuy.ts';
import type { Result } from '../../engine/model/result.ts';
import { counted } from '../amounts.ts';

/** "about 31 hours", "about 1 hour 20 minutes", "about 40 minutes": to the hour from ten hours on, else to the five minutes. */
export function hoursWords(minutes: number): string {
  if (minutes === 0) return 'no time';
  if (minutes < 2.5) return 'a few minutes';
  if (minutes >= 600) return `about ${counted(Math.round(minutes / 60), 'hour')}`;
  const near = Math.round(minutes / 5) * 5;
  const [hours, rest] = [Math.floor(near / 60), near % 60];
  return `about ${[
    ...(hours > 0 ? [counted(hours, 'hour')] : []),
    ...(rest > 0 ? [counted(rest, 'minute')] : []),
  ].join(' ')}`;
}

/** "2 h 05 min": to the minute, for tables. */
export function hoursText(minutes: number): string {
  const whole = Math.round(minutes);
  const [hours, rest] = [Math.floor(whole / 60), whole % 60];
  return hours === 0 ? `${rest} min` : `${hours} h ${`${rest}`.padStart(2, '0')} min`;
}

/** The name of a loom of the quote, by its name among the made looms; where two are called alike, that. */
export function loomNames({ looms }: Pick<Result, 'looms'>): (made: string) => string {
  const names = new Map(looms.map(({ loom, madeAs = loom, name }) => [madeAs, name]));
  const uses = new Map<string, number>();
  for (const name of names.values()) uses.set(name, (uses.get(name) ?? 0) + 1);
  return (made) => {
    const name = names.get(made);
    return name === undefined || (uses.get(name) ?? 0) > 1 ? made : name;
  };
}

/** "A", "A and B", "A, B and C" */
export function allOf(names: readonly string[]): string {
  const [last, ...before] = [...names].reverse();
  return before.length === 0 ? (last ?? '') : `${before.reverse().join(', ')} and ${last ?? ''}`;
}

/** The combinations that are told by name. */
export interface Told {
  allBuilt: Combination | undefined;
  allBought: Combination | undefined;
  best: Combination | undefined;
  /** Some looms are built and some bought, and that has the lowest total. */
  isMixed: boolean;
}

export function toldOf({ combinations, allBuilt, allBought, best }: BuildOrBuy): Told {
  return {
    allBuilt: combinations[allBuilt],
    allBought: allBought === undefined ? undefined : combinations[allBought],
    best: combinations[best],
    isMixed: best !== allBuilt && best !== allBought,
  };
}

/** "main built, rear bought made", by the names of made looms; of all alike "All built". */
export function combinationWords({ built, bought }: Combination): string {
  const made = bought.flatMap(({ looms }) => looms);
  if (made.length === 0) return 'All built';
  if (built.length === 0) return 'All bought made';
  return `${allOf(built)} built, ${allOf(made)} bought made`;
}

export function isPositive(amount: string): boolean {
  return /^\d*\.?\d*$/.test(amount) && /[1-9]/.test(amount);
}

export function isNegative(amount: string): boolean {
  return amount.startsWith('-') && /[1-9]/.test(amount);
}

/** Without its sign. */
export const sizeOf = (amount: string) => amount.replace(/^-/, '');

/** Whether any hours come from default minutes. */
export function hasDefaults({ labour }: BuildOrBuy): boolean {
  return labour.some(({ operations }) => operations.some(({ byDefault }) => byDefault));
}
