import type { Bin } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';

/**
 * Whether all pieces come whole out of the lengths, by putting each piece into each length in turn. Nothing is lost at a
 * cut; a piece comes of no length of a later wave. For about ten pieces.
 */
export function comesOut(bins: readonly Bin[], pieces: readonly Pieces[]): boolean {
  const single = pieces.flatMap(({ mm, count, wave = 0 }) =>
    Array.from({ length: count }, () => ({ mm, wave })),
  );
  const room = bins.flatMap(({ usableMm, count, wave = 0 }) =>
    Array.from({ length: Math.min(count, single.length) }, () => ({ left: usableMm, wave })),
  );
  const place = (index: number): boolean => {
    const piece = single[index];
    if (!piece) return true;
    const tried = new Set<string>();
    return room.some((length) => {
      const alike = `${length.left}/${length.wave}`;
      if (length.wave > piece.wave || length.left < piece.mm || tried.has(alike)) return false;
      tried.add(alike);
      length.left -= piece.mm;
      const fits = place(index + 1);
      length.left += piece.mm;
      return fits;
    });
  };
  return place(0);
}
