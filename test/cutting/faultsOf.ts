import type { Bin, Packing } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';

/** What is wrong with a packing; nothing where each piece is cut once out of a length that there is and that holds it. */
export function faultsOf(packing: Packing, bins: readonly Bin[], pieces: readonly Pieces[]): string[] {
  if (packing.status !== 'packed') return ['not packed'];
  const key = ({ mm, wave = 0 }: Pieces) => `${mm} of wave ${wave}`;
  const left = new Map(pieces.map((piece) => [key(piece), piece.count]));
  const used = bins.map(() => 0);
  const faults: string[] = [];
  for (const { bin, lengths, pieces: own } of packing.lengths) {
    used[bin] = (used[bin] ?? 0) + lengths;
    const mm = own.reduce((sum, piece) => sum + piece.mm * piece.count, 0);
    if (mm > (bins[bin]?.usableMm ?? 0)) faults.push(`${mm} mm out of bin ${bin}`);
    for (const piece of own) {
      if ((piece.wave ?? 0) < (bins[bin]?.wave ?? 0)) faults.push(`${key(piece)} out of a later bin`);
      left.set(key(piece), (left.get(key(piece)) ?? NaN) - lengths * piece.count);
    }
  }
  for (const [piece, count] of left) if (count !== 0) faults.push(`${count} too few of ${piece}`);
  used.forEach((lengths, bin) => {
    if (lengths > (bins[bin]?.count ?? 0)) faults.push(`${lengths} of bin ${bin}`);
  });
  return faults;
}
