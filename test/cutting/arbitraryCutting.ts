import fc from 'fast-check';
import type { Bin } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';

export interface SmallCutting {
  /** How many there are of each, about as much as the pieces take. */
  bins: Bin[];
  pieces: Pieces[];
  metres: { mm: number; wave: number }[];
}

/** Up to nine pieces out of lengths of up to three kinds, in up to three waves; of fine and of coarse measure. */
export const smallCutting: fc.Arbitrary<SmallCutting> = fc
  .record({
    unit: fc.constantFrom(1, 5, 100),
    waves: fc.constantFrom(1, 1, 3),
    sizes: fc.array(fc.integer({ min: 10, max: 45 }), { minLength: 1, maxLength: 3 }),
    pieces: fc.array(fc.integer({ min: 2, max: 40 }), { minLength: 2, maxLength: 9 }),
    seeds: fc.infiniteStream(fc.nat(1000)).map((stream) => {
      const drawn = [...stream.take(40)];
      return (limit: number) => (drawn.shift() ?? 0) % limit;
    }),
    share: fc.integer({ min: 92, max: 112 }),
  })
  .map(({ unit, waves, sizes, pieces: lengths, seeds, share }) => {
    const bins = sizes.map((size) => ({
      usableMm: unit * size + seeds(unit),
      count: 0,
      wave: seeds(waves),
    }));
    const pieces: Required<Pieces>[] = [];
    for (const size of lengths) {
      const [mm, wave] = [unit * size, seeds(waves)];
      const same = pieces.find((piece) => piece.mm === mm && piece.wave === wave);
      if (same) same.count++;
      else pieces.push({ mm, count: 1, wave });
    }
    pieces.sort((a, b) => b.mm - a.mm || a.wave - b.wave);
    const total = pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
    for (let left = (total * share) / 100; left > 0;) {
      const bin = bins[seeds(bins.length)];
      if (!bin) break;
      bin.count++;
      left -= bin.usableMm;
    }
    const metres =
      seeds(2) === 0 ? [] : [{ mm: seeds(3) === 0 ? 0 : (seeds(100) * total) / 100, wave: seeds(waves) }];
    return { bins, pieces, metres };
  });
