import { changed } from '../sourcing/problem/changed.ts';
import type { Problem } from '../sourcing/problem/problem.ts';

/** What is asked of a mix beside that it meets requirements; suppliers by code. */
export interface Conditions {
  /** It comes from no more suppliers than this. */
  atMost: number;
  /** Something comes from each of these. */
  from: readonly string[];
  /** Nothing comes from these. */
  shut: readonly string[];
  /** All of the first order of which lead days are known is there within so many days. */
  days: number;
  /** It comes from another set of suppliers than this one. */
  not?: readonly string[];
}

/** What conditions are held against. */
export interface Traits {
  /** In byte order. */
  suppliers: readonly string[];
  /** The last day on which something comes with the first order; -Infinity where none is known. */
  lastDay: number;
}

export function satisfies({ suppliers, lastDay }: Traits, asked: Conditions): boolean {
  return (
    suppliers.length <= asked.atMost &&
    lastDay <= asked.days &&
    asked.from.every((code) => suppliers.includes(code)) &&
    !asked.shut.some((code) => suppliers.includes(code)) &&
    (asked.not === undefined || !isSame(suppliers, asked.not))
  );
}

/**
 * Whether every mix that satisfies the one satisfies the other, as far as the conditions show it. What no mix under the
 * other goes below, none under the one goes below either.
 */
export function isWithin(one: Conditions, other: Conditions): boolean {
  return (
    one.atMost <= other.atMost &&
    one.days <= other.days &&
    other.from.every((code) => one.from.includes(code)) &&
    other.shut.every((code) => one.shut.includes(code)) &&
    (other.not === undefined || isNever(one, other.not))
  );
}

/** Whether no mix under the conditions comes from just this set. */
function isNever({ atMost, from, shut, not }: Conditions, set: readonly string[]): boolean {
  return (
    (not !== undefined && isSame(not, set)) ||
    atMost < set.length ||
    from.some((code) => !set.includes(code)) ||
    shut.some((code) => set.includes(code))
  );
}

function isSame(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((code) => b.includes(code));
}

/** The problem whose plans are those that satisfy the conditions. `not` is none that a problem can state. */
export function problemUnder(
  problem: Problem,
  { atMost, from, shut, days }: Omit<Conditions, 'not'>,
  leads: readonly (number | undefined)[],
): Problem {
  const isShut = (supplier: number) => {
    const terms = problem.suppliers[supplier];
    return terms !== undefined && !terms.own && shut.includes(terms.code);
  };
  const open = new Set(
    problem.suppliers.flatMap(({ code, own }) => (own || shut.includes(code) ? [] : [code])),
  );
  return changed(problem, {
    choices: ({ supplier }, at) => !isShut(supplier) && (leads[at] ?? 0) <= days,
    insistOn: from,
    atMostSuppliers: open.size <= atMost ? Infinity : atMost,
  });
}
