import type { Control } from '../model/control.ts';
import type { Exact } from '../units/money.ts';
import { openIn, workBranches, type Parted } from './branches.ts';
import type { Conditions } from './conditions.ts';
import { sellerOf, setOf, type Mix } from './mix.ts';
import type { Pool } from './pool.ts';

/** Works the cheapest mix that meets as many requirements from another set of suppliers than the quote's. Throws Cancelled. */
export function workOtherSet(pool: Pool, control: Control): Promise<void> {
  return workBranches(pool, parted(pool), control);
}

/** The cheapest mix from another set of suppliers, none where none is known; so many branches are not worked to the end. */
export function otherSet(pool: Pool): { mix: Mix | undefined; left: number } {
  const others = parted(pool);
  const { mix } = pool.answer(others.target);
  return {
    mix: mix && mix.plan.unmet.length <= others.mostUnmet ? mix : undefined,
    left: openIn(pool, others),
  };
}

/**
 * Any other set lacks one of the quote's suppliers or has one more: each of them is shut out, and each of the others
 * insisted on.
 */
function parted(pool: Pool): Parted {
  const asked = pool.asked();
  const { plan } = pool.quote();
  const own = setOf(pool.problem, plan);
  const without = own
    .filter((code) => !asked.from.includes(code))
    .map((code) => ({ ...asked, shut: [code] }));
  const isFull = asked.from.length >= asked.atMost;
  const beside = othersThan(pool, own).map((code) => withAlso(asked, code));
  return {
    target: { ...asked, not: own },
    branches: [...without, ...(isFull ? [] : beside)],
    mostUnmet: plan.unmet.length,
  };
}

/** The suppliers of whom something can be bought, but those of a set, in byte order. */
function othersThan({ problem }: Pool, own: readonly string[]): string[] {
  const codes = new Set(problem.choices.flatMap((_, at) => sellerOf(problem, at) ?? []));
  return [...codes].filter((code) => !own.includes(code)).sort();
}

function withAlso(asked: Conditions, code: string): Conditions {
  return { ...asked, from: [...asked.from, code].sort() };
}

/** What no mix that buys of a supplier goes below, from what none goes below that buys of a choice: into the pool. */
export function learnForced(pool: Pool, forced: readonly Exact[]): void {
  const { problem } = pool;
  const least = new Map<string, Exact>();
  forced.forEach((bound, at) => {
    const code = sellerOf(problem, at);
    if (code === undefined) return;
    const before = least.get(code);
    if (before === undefined || bound < before) least.set(code, bound);
  });
  const unmet = pool.quote().plan.unmet.length;
  for (const [code, bound] of least)
    pool.learn({ conditions: withAlso(pool.asked(), code), unmet, bound, fewest: 0 });
}
