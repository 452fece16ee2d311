/**
 * The least total of pieces, mm, that stays over when as many as possible are cut whole out of the hanks, by trying every
 * way of cutting. Nothing is lost at a cut. Pieces and hanks in mm, at most about six pieces.
 */
export function leftOver(pieces: readonly number[], hanks: readonly number[]): number {
  const room = mostOfEach(hanks, pieces.length);
  const total = pieces.reduce((sum, mm) => sum + mm, 0);
  let best = total;
  const place = (index: number, over: number): void => {
    if (over >= best) return;
    const piece = pieces[index];
    if (piece === undefined) {
      best = over;
      return;
    }
    const tried = new Set<number>();
    room.forEach((left, hank) => {
      if (left < piece || tried.has(left)) return;
      tried.add(left);
      room[hank] = left - piece;
      place(index + 1, over);
      room[hank] = left;
    });
    place(index + 1, over + piece);
  };
  place(0, 0);
  return best;
}

/** A hank holds one piece at least or is not needed: no more alike are of use than there are pieces. */
function mostOfEach(hanks: readonly number[], most: number): number[] {
  const seen = new Map<number, number>();
  return hanks.filter((mm) => {
    const count = (seen.get(mm) ?? 0) + 1;
    seen.set(mm, count);
    return count <= most;
  });
}
