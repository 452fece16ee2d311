import type { Pieces } from '../../worker/engine/cutting/patterns.ts';

/** Every way to fill one length, also with less than goes in, by how many of each piece. */
export function fillingsOf(usableMm: number, pieces: readonly Pieces[]): number[][] {
  const fillings: number[][] = [];
  const fill = (at: number, left: number, taken: number[]): void => {
    const piece = pieces[at];
    if (!piece) {
      fillings.push(taken);
      return;
    }
    for (let count = 0; count <= piece.count && count * piece.mm <= left; count++)
      fill(at + 1, left - count * piece.mm, [...taken, count]);
  };
  fill(0, usableMm, []);
  return fillings;
}

/** The fewest lengths that all pieces come out of, by every way to fill one after the other: for a few distinct lengths. */
export function fewestLengths(usableMm: number, pieces: readonly Pieces[]): number {
  const fillings = fillingsOf(usableMm, pieces);
  let reached = new Map([[pieces.map(() => 0).join(), pieces.map(() => 0)]]);
  const all = pieces.map(({ count }) => count).join();
  for (let lengths = 0; ; lengths++) {
    if (reached.has(all)) return lengths;
    const next = new Map<string, number[]>();
    for (const before of reached.values())
      for (const filling of fillings) {
        const sum = before.map((count, at) => Math.min(pieces[at]?.count ?? 0, count + (filling[at] ?? 0)));
        next.set(sum.join(), sum);
      }
    reached = next;
  }
}
