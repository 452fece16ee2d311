import type { Filled, Length } from '../../../worker/engine/cutting/offcuts/lengths.ts';

/** Lengths opened, bought ones among them, their mm, then minus the offcuts worth keeping, longest first: the less the better. */
export type Judged = readonly number[];

/** Judges single lengths, each with what is cut of it in all; 0 of what stays whole. */
function judged(
  single: readonly { usableMm: number; own: boolean; cutMm: number }[],
  keepMm: number,
): Judged {
  const opened = single.filter(({ cutMm }) => cutMm > 0);
  const offcuts = opened
    .map(({ usableMm, cutMm }) => usableMm - cutMm)
    .filter((mm) => mm >= keepMm)
    .sort((a, b) => b - a);
  return [
    opened.length,
    opened.filter(({ own }) => !own).length,
    opened.reduce((sum, { usableMm }) => sum + usableMm, 0),
    ...single.map((_, at) => -(offcuts[at] ?? 0)),
  ];
}

export function isLess(a: Judged, b: Judged): boolean {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
}

/** Millimetres of pieces. */
export const mmOf = (pieces: Filled['pieces']) => pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);

/** What a cutting is worth. */
export function judgedOf(lengths: readonly Length[], filled: readonly Filled[], keepMm: number): Judged {
  const single = lengths.flatMap(({ usableMm, count, own }, length) => {
    const cut = filled.filter((one) => one.length === length);
    const mm = cut.flatMap(({ times, pieces }) => Array<number>(times).fill(mmOf(pieces)));
    return Array.from({ length: count }, (_, at) => ({ usableMm, own, cutMm: mm[at] ?? 0 }));
  });
  return judged(single, keepMm);
}

/** The best of all cuttings, by putting each piece into each length in turn. For about eight pieces. */
export function bestOfAll(
  lengths: readonly Length[],
  pieces: Filled['pieces'],
  keepMm: number,
): Judged | undefined {
  const single = lengths.flatMap(({ usableMm, count, wave, own }) =>
    Array.from({ length: count }, () => ({ usableMm, wave, own, cutMm: 0 })),
  );
  const each = pieces.flatMap(({ mm, count, wave = 0 }) =>
    Array.from({ length: count }, () => ({ mm, wave })),
  );
  let best: Judged | undefined;
  const place = (index: number): void => {
    const piece = each[index];
    if (!piece) {
      const found = judged(single, keepMm);
      if (!best || isLess(found, best)) best = found;
      return;
    }
    for (const length of single) {
      if (length.wave > piece.wave || length.cutMm + piece.mm > length.usableMm) continue;
      length.cutMm += piece.mm;
      place(index + 1);
      length.cutMm -= piece.mm;
    }
  };
  place(0);
  return best;
}

/** Some cutting, each piece into the first length that holds it; undefined where that does not come out. */
export function someCutting(lengths: readonly Length[], pieces: Filled['pieces']): Filled[] | undefined {
  const single = lengths.flatMap(({ usableMm, count, wave }, length) =>
    Array.from({ length: count }, () => ({
      length,
      left: usableMm,
      wave,
      own: new Map<string, Filled['pieces'][number]>(),
    })),
  );
  // Lengths of a late order first: early pieces cannot come of them.
  single.sort((a, b) => b.wave - a.wave);
  for (const { mm, count, wave = 0 } of pieces)
    for (let time = 0; time < count; time++) {
      const fits = single.find((one) => one.wave <= wave && one.left >= mm);
      if (!fits) return undefined;
      fits.left -= mm;
      const key = `${mm} ${wave}`;
      fits.own.set(key, { mm, wave, count: (fits.own.get(key)?.count ?? 0) + 1 });
    }
  return single.flatMap(({ length, own }) =>
    own.size > 0 ? [{ length, times: 1, pieces: [...own.values()] }] : [],
  );
}

/** What is wrong with a cutting of these pieces; nothing where each is cut once, out of a length that there is and holds it. */
export function faultsOf(
  lengths: readonly Length[],
  filled: readonly Filled[],
  pieces: Filled['pieces'],
): string[] {
  const faults: string[] = [];
  const key = (piece: Filled['pieces'][number]) => `${piece.mm} of order ${piece.wave ?? 0}`;
  const left = new Map(pieces.map((piece) => [key(piece), piece.count]));
  const used = lengths.map(() => 0);
  for (const { length, times, pieces: own } of filled) {
    used[length] = (used[length] ?? 0) + times;
    if (mmOf(own) > (lengths[length]?.usableMm ?? 0)) faults.push(`${mmOf(own)} mm out of length ${length}`);
    for (const piece of own) {
      if ((piece.wave ?? 0) < (lengths[length]?.wave ?? 0))
        faults.push(`${key(piece)} out of a later length`);
      left.set(key(piece), (left.get(key(piece)) ?? NaN) - times * piece.count);
    }
  }
  for (const [piece, count] of left) if (count !== 0) faults.push(`${count} too few of ${piece}`);
  used.forEach((times, at) => {
    if (times > (lengths[at]?.count ?? 0)) faults.push(`${times} of length ${at}`);
  });
  return faults;
}
