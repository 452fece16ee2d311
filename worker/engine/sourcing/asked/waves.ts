import { inPieces } from '../../loom/lengths/inPieces.ts';
import { totalOf } from '../../loom/lengths/totals.ts';
import type { Pieces } from '../../cutting/patterns.ts';
import type { Requirement } from '../../model/result.ts';

/** What must be there by each order, the last one being all. */
export interface ByWave {
  /** Of a sum: so much by each order, never less than by the one before. */
  amounts(requirement: Requirement): number[];
  /** Of what comes with the first order that has any of these requirements. */
  firstOf(follows: ReadonlySet<string>, requirement: Requirement): number[];
  /** Of pieces: those that each order brings to be cut, longest first, each length and order once. */
  pieces(requirement: Requirement): Pieces[];
}

/**
 * `earlier`: what the first order, the first two … roll up to, without the last, which is all. `samples`: so many pieces of
 * each counted requirement come with the first order.
 */
export function byWave(earlier: readonly (readonly Requirement[])[], samples: number): ByWave {
  const lists = earlier.map((list) => new Map(list.map((requirement) => [requirement.id, requirement])));
  return {
    amounts: (requirement) => {
      const all = amountOf(requirement);
      const first =
        requirement.kind === 'count' && requirement.uses.length > 0 && lists.length > 0
          ? Math.min(samples, all)
          : 0;
      let least = first;
      const amounts = lists.map((list) => {
        const own = list.get(requirement.id);
        least = Math.min(all, Math.max(least, own ? amountOf(own) : 0));
        return least;
      });
      return [...amounts, all];
    },
    firstOf: (follows, requirement) => [
      // Samples of its family are worked too.
      ...lists.map((list) =>
        samples > 0 || [...follows].some((id) => list.has(id)) ? amountOf(requirement) : 0,
      ),
      amountOf(requirement),
    ],
    pieces: (requirement) => {
      if (requirement.kind === 'count') return [];
      const pieces = new Map<string, Pieces>();
      const before = new Map<number, number>();
      let spared = 0;
      [...lists.map((list) => list.get(requirement.id)), requirement].forEach((own, index) => {
        if (own === undefined || own.kind === 'count') return;
        const add = (mm: number, count: number) => {
          const key = `${mm} ${index}`;
          pieces.set(key, { mm, count: count + (pieces.get(key)?.count ?? 0), wave: index + 1 });
        };
        for (const [mm, count] of countsOf(own.pieces)) {
          const more = count - (before.get(mm) ?? 0);
          if (more <= 0) continue;
          before.set(mm, count);
          add(mm, more);
        }
        // Spares that came with an earlier order are there; an order adds what they are short of.
        const spares = own.spares ?? [];
        const spareMm = totalOf(spares).totalMm;
        const longest = spares.reduce((most, { cutMm }) => Math.max(most, cutMm), 0);
        for (const { cutMm, count } of spared === 0 ? spares : inPieces(spareMm - spared, longest))
          add(cutMm, count);
        spared = Math.max(spared, spareMm);
      });
      return [...pieces.values()].sort((a, b) => b.mm - a.mm || (a.wave ?? 0) - (b.wave ?? 0));
    },
  };
}

/** What a sum comes to: pieces, or mm. */
export function amountOf(requirement: Requirement): number {
  return requirement.kind === 'count' ? requirement.quantity : requirement.totalMm;
}

function countsOf(cuts: readonly { cutMm: number; count: number }[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { cutMm, count } of cuts) counts.set(cutMm, (counts.get(cutMm) ?? 0) + count);
  return counts;
}
