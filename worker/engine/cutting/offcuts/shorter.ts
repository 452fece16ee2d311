import type { Cutting, Length, Opened } from './lengths.ts';

/**
 * The same pieces together as before, each lot of them out of a length off the shelf before a bought one, and of these out of
 * the shortest that holds it: what has the most to hold chooses first. Never more lengths, and never longer ones in all.
 */
export function intoShorter(cutting: Cutting): Cutting {
  const { lengths, kinds } = cutting;
  const free = lengths.map(({ count }) => count);
  for (const { length } of cutting.opened) free[length] = (free[length] ?? 0) - 1;
  const cutMm = ({ length, leftMm }: Opened) => (lengths[length]?.usableMm ?? 0) - leftMm;
  const order = lengths.map((_, at) => at).sort((a, b) => compareLengths(lengths[a], lengths[b]) || a - b);
  const opened = [...cutting.opened]
    .sort((a, b) => cutMm(b) - cutMm(a) || a.length - b.length)
    .map((one): Opened => {
      const mm = cutMm(one);
      const earliest = kinds.reduce(
        (wave, kind, at) => ((one.counts[at] ?? 0) > 0 ? Math.min(wave, kind.wave) : wave),
        Infinity,
      );
      const serves = (length: Length | undefined) =>
        length !== undefined && length.usableMm >= mm && length.wave <= earliest;
      free[one.length] = (free[one.length] ?? 0) + 1;
      const to = order.find((at) => (free[at] ?? 0) > 0 && serves(lengths[at])) ?? one.length;
      free[to] = (free[to] ?? 0) - 1;
      return { ...one, length: to, leftMm: (lengths[to]?.usableMm ?? 0) - mm };
    });
  return { ...cutting, opened };
}

/** Off the shelf first, then the shortest. */
function compareLengths(a: Length | undefined, b: Length | undefined): number {
  return Number(b?.own === true) - Number(a?.own === true) || (a?.usableMm ?? 0) - (b?.usableMm ?? 0);
}
