import type { Control } from '../model/control.ts';
import type { Problem } from '../sourcing/problem.ts';
import { restricted } from '../sourcing/restricted.ts';
import { halfMinor, type Exact } from '../units/money.ts';
import { cheapest, insistedIn, isWorse, sellerOf, setOf, type Mix, type Quoted } from './mix.ts';
import { isOver, sliceOf } from './time.ts';

/** One way in which a set of suppliers differs from the quote's. */
interface Differing {
  problem: Problem;
  /** No mix of it costs less. */
  bound: Exact;
}

/**
 * The cheapest mix that meets as many needs from another set of suppliers than the quote's; none where there is none.
 * Any other set lacks one of the quote's suppliers or has one more, so it is the best of: each of them shut out, and each
 * of the others insisted on. `forced`: by choice, what no mix that buys of it goes below. What cannot be cheaper than the
 * best so far is left aside. `left`: so many of these were not worked to the end. Throws Cancelled.
 */
export async function otherSet(
  quoted: Quoted,
  forced: readonly Exact[],
  control: Control,
): Promise<{ mix: Mix | undefined; left: number }> {
  const ways = waysToDiffer(quoted, forced);
  const bounds: Exact[] = [];
  let best: Mix | undefined;
  for (const [at, { problem, bound }] of ways.entries()) {
    if (best && bound >= best.cost) continue;
    if (isOver(control)) {
      bounds.push(bound);
      continue;
    }
    const found = await cheapest(problem, quoted, sliceOf(control, ways.length - at), best?.cost);
    // From some that are insisted on nothing can be bought so, or more goes unmet.
    const isNone = found.plan.without.length > 0 || isWorse(found.plan, quoted.plan);
    if (isNone && found.proven) continue;
    bounds.push(isNone || found.bound < bound ? bound : found.bound);
    if (!isNone && (!best || found.cost < best.cost)) best = found;
  }
  if (!best) return { mix: undefined, left: bounds.length };
  const { cost } = best;
  const bound = bounds.reduce((least, other) => (other < least ? other : least), cost);
  const isOpen = (other: Exact) => cost - other >= halfMinor(quoted.problem.scale);
  return { mix: { ...best, bound, proven: !isOpen(bound) }, left: bounds.filter(isOpen).length };
}

/** Those first that may be cheapest. */
function waysToDiffer(quoted: Quoted, forced: readonly Exact[]): Differing[] {
  const { problem, plan, bound } = quoted;
  const insistOn = insistedIn(quoted);
  const own = setOf(problem, plan);
  const asked = { ...problem, insistOn };
  const isFull = insistOn.length >= (problem.atMostSuppliers ?? Infinity);
  const without = own
    .filter((code) => !insistOn.includes(code))
    .map((code) => ({
      bound,
      problem: restricted(asked, ({ supplier }) => {
        const terms = problem.suppliers[supplier];
        return terms === undefined || terms.own || terms.code !== code;
      }),
    }));
  const least = new Map<string, Exact>();
  problem.choices.forEach((_, at) => {
    const code = sellerOf(problem, at);
    const of = forced[at] ?? 0n;
    if (code === undefined || own.includes(code)) return;
    const before = least.get(code);
    if (before === undefined || of < before) least.set(code, of);
  });
  const beside = [...least].map(([code, of]) => ({
    bound: of > bound ? of : bound,
    problem: { ...asked, insistOn: [...insistOn, code].sort() },
  }));
  // Sorting is stable: equals keep the order of their codes.
  return [...without, ...(isFull ? [] : beside)].sort((a, b) =>
    a.bound < b.bound ? -1 : a.bound > b.bound ? 1 : 0,
  );
}
