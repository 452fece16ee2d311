import { totalOf, type Kind, type Length, type Opened } from './lengths.ts';
import { compareOffcuts, keptOf } from './rank.ts';
import { Sums, type Reach } from './reach.ts';

/** Work that a search may still do, counted in steps and not in time, so that the same question has the same answer. */
export interface Effort {
  left: number;
}

/** A cutting of all pieces out of all of some lengths. */
export interface Found {
  opened: readonly Opened[];
  /** Those worth keeping, the longest first. */
  offcuts: readonly number[];
}

/** Out of which lengths which pieces are cut. */
export interface Filling {
  lengths: readonly Length[];
  kinds: readonly Kind[];
  reach: Reach;
  /** The kinds of the lengths, all of which are opened. */
  opened: readonly number[];
  keepMm: number;
}

/**
 * The cutting with the longest offcuts, the longest compared first, in which no other length has a longer one than the
 * one of kind `holder`; `best` where none is better. The other lengths are filled one after the other, each as full as
 * it can be first; what cannot come to a better cutting is left out. `ended`: whether all was looked at.
 */
export function fillAround(
  { lengths, kinds, reach, opened, keepMm }: Filling,
  holder: number,
  best: Found | undefined,
  effort: Effort,
): { best: Found | undefined; ended: boolean } {
  const lengthAt = (at: number): Length => lengths[at] ?? { usableMm: 0, count: 0, wave: 0, own: false };
  const held = lengthAt(holder);
  const others = [...opened];
  others.splice(others.indexOf(holder), 1);
  // Lengths of a late order first, as early pieces cannot come of them; then the short ones, which are hard to fill.
  others.sort(
    (a, b) => lengthAt(b).wave - lengthAt(a).wave || lengthAt(a).usableMm - lengthAt(b).usableMm || a - b,
  );
  const { stepMm } = reach;
  const sumsOf = others.map((at) => reach.in(lengthAt(at).wave));
  const fullest = others.map((at, index) =>
    (sumsOf[index] ?? NONE).greatest(Math.floor(lengthAt(at).usableMm / stepMm)),
  );
  const leastLeft = others.map((at, index) => lengthAt(at).usableMm - (fullest[index] ?? 0) * stepMm);
  const waves = [...new Set(kinds.map(({ wave }) => wave))];
  const left = kinds.map(({ count }) => count);
  const filled: { counts: number[]; leftMm: number }[] = [];
  let ended = true;

  /** Whether the earlier pieces that are left have room in what is still to be filled. */
  const hasRoom = (from: number): boolean =>
    waves.length === 1 ||
    waves.every((wave) => {
      const rest = kinds.reduce(
        (sum, kind, at) => (kind.wave <= wave ? sum + kind.mm * (left[at] ?? 0) : sum),
        0,
      );
      const room = [...others.slice(from), holder].reduce((sum, at) => {
        const length = lengthAt(at);
        return length.wave <= wave ? sum + length.usableMm : sum;
      }, 0);
      return rest <= room;
    });

  /** Whether it can still be better, where the holder is left with so much at the most and the next length with so much. */
  const canBeBetter = (mostLeft: number, nextLeft: number): boolean => {
    if (!best) return true;
    const most = mostLeft >= keepMm ? mostLeft : 0;
    const first = best.offcuts[0] ?? 0;
    if (most !== first) return most > first;
    // As long a one only where all lengths to come are as full as they can be.
    const all = [...filled.map(({ leftMm }) => leftMm), nextLeft, ...leastLeft.slice(filled.length + 1)];
    return compareOffcuts(keptOf([mostLeft, ...all], keepMm), best.offcuts) < 0;
  };

  const finish = (mostLeft: number): void => {
    if (mostLeft < 0) return;
    if (kinds.some(({ wave }, at) => wave < held.wave && (left[at] ?? 0) > 0)) return;
    const all = [
      ...filled.map((one, index) => ({ length: others[index] ?? 0, ...one })),
      { length: holder, counts: [...left], leftMm: mostLeft },
    ].filter(({ counts }) => counts.some((count) => count > 0));
    const offcuts = keptOf(
      all.map(({ leftMm }) => leftMm),
      keepMm,
    );
    if (!best || all.length < best.opened.length || compareOffcuts(offcuts, best.offcuts) < 0)
      best = { opened: all, offcuts };
  };

  /** Fills the lengths from `index` on; the holder is left with so much at the most. */
  const place = (index: number, mostLeft: number): void => {
    const at = others[index];
    if (at === undefined) return finish(mostLeft);
    if (!hasRoom(index)) return;
    const { usableMm } = lengthAt(at);
    const sums = sumsOf[index] ?? NONE;
    const before = others[index - 1] === at ? filled[index - 1] : undefined;
    // Of lengths that are alike the fuller one comes first.
    const most = before ? Math.round((usableMm - before.leftMm) / stepMm) : (fullest[index] ?? 0);
    for (let sum = Math.min(most, fullest[index] ?? 0); sum > 0; sum--) {
      const leftMm = usableMm - sum * stepMm;
      const rest = mostLeft - (leftMm - (leastLeft[index] ?? 0));
      if (rest < 0 || leftMm > rest || !canBeBetter(rest, leftMm)) return;
      if (--effort.left < 0) {
        ended = false;
        return;
      }
      if (!sums.has(0, sum)) continue;
      const counts = kinds.map(() => 0);
      fill(index, counts, 0, sum, before?.leftMm === leftMm ? before.counts : undefined, rest);
      if (!ended) return;
    }
  };

  /** Every way in which the kinds from `from` on come to a sum, those that hold more of the longer kinds first. */
  const fill = (
    index: number,
    counts: number[],
    from: number,
    sum: number,
    noMoreThan: readonly number[] | undefined,
    rest: number,
  ): void => {
    const { wave, usableMm } = lengthAt(others[index] ?? 0);
    const sums = sumsOf[index] ?? NONE;
    if (sum === 0) {
      if (noMoreThan && isMore(counts, noMoreThan)) return;
      const leftMm = usableMm - totalOf(kinds, counts);
      if (!canBeBetter(rest, leftMm)) return;
      filled.push({ counts: [...counts], leftMm });
      place(index + 1, rest);
      filled.pop();
      return;
    }
    for (let at = from; at < kinds.length && sums.has(at, sum); at++) {
      const kind = kinds[at];
      if (!kind || kind.wave < wave) continue;
      const size = kind.mm / stepMm;
      for (let count = Math.min(left[at] ?? 0, Math.floor(sum / size)); count > 0; count--) {
        if (!sums.has(at + 1, sum - count * size)) continue;
        if (--effort.left < 0) {
          ended = false;
          return;
        }
        left[at] = (left[at] ?? 0) - count;
        counts[at] = count;
        fill(index, counts, at + 1, sum - count * size, noMoreThan, rest);
        left[at] = (left[at] ?? 0) + count;
        counts[at] = 0;
        if (!ended) return;
      }
    }
  };

  const all = opened.reduce((sum, at) => sum + lengthAt(at).usableMm, 0);
  const needed = kinds.reduce((sum, { mm, count }) => sum + mm * count, 0);
  place(0, all - needed - leastLeft.reduce((sum, mm) => sum + mm, 0));
  return { best, ended };
}

const NONE = new Sums(new Uint8Array(), 0);

/** Whether one filling comes before another in the order in which they are looked at. */
function isMore(counts: readonly number[], than: readonly number[]): boolean {
  const at = counts.findIndex((count, index) => count !== than[index]);
  return at >= 0 && (counts[at] ?? 0) > (than[at] ?? 0);
}
