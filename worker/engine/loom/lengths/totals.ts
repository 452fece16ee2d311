import type { Requirement } from '../../model/result.ts';
import type { Step } from '../../model/step.ts';
import type { Cuts } from './inPieces.ts';

/** More different lengths than this are not written out in the sum. */
const TERMS = 12;

/** Pieces of a requirement added up, longest first, with the sum. */
export function totalOf(pieces: readonly Cuts[]): {
  totalMm: number;
  steps: Step[];
} {
  const lengths = lengthsOf(pieces);
  const totalMm = lengths.reduce((sum, { mm, count }) => sum + mm * count, 0);
  const number = lengths.reduce((sum, { count }) => sum + count, 0);
  const terms =
    lengths.length <= TERMS
      ? lengths.map(({ mm, count }) => `${count} × ${mm}`).join(' + ')
      : `${number} pieces of ${lengths.length} lengths`;
  return {
    totalMm,
    steps: [{ rule: 'total', text: `${terms} = ${totalMm} mm`, value: totalMm, unit: 'mm' }],
  };
}

/** What is cut for a requirement: its pieces and its spares. */
export function cutsOf(requirement: Exclude<Requirement, { kind: 'count' }>): readonly Cuts[] {
  return [...requirement.pieces, ...(requirement.spares ?? [])];
}

/** How many pieces there are of each length, longest first. */
function lengthsOf(pieces: readonly Cuts[]): { mm: number; count: number }[] {
  const counts = new Map<number, number>();
  for (const { cutMm, count } of pieces) counts.set(cutMm, (counts.get(cutMm) ?? 0) + count);
  return [...counts].sort(([a], [b]) => b - a).map(([mm, count]) => ({ mm, count }));
}
