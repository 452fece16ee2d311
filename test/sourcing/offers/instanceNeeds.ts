import type { Random } from '../random.ts';
import { partOf, type PartInput, type Wanted } from './jobOf.ts';

/** A part that is needed, and roughly how much of it: pieces, or the cut lengths in mm. */
export type NeededPart = { part: string } & (
  { kind: 'counted'; quantity: number } | { kind: 'wire' | 'sleeve' | 'tape'; pieces: number[] }
);

export interface Needed {
  wanted: Wanted;
  parts: PartInput[];
  needed: NeededPart[];
}

const KINDS = ['counted', 'counted', 'counted', 'red', 'red', 'blue', 'sleeve', 'tape', 'tape'] as const;
const CUTTING = ['red', 'red', 'red', 'blue', 'blue', 'sleeve'] as const;

/** One to three needs; where it is about cutting, one or two wires and sleeves. Lengths lie where tolerance, end loss and whole pieces may decide. */
export function neededBy(random: Random, cutting: boolean): Needed {
  const quantity = random.pick([1, 1, 1, 2]);
  const wanted: Wanted = { wires: [], coverings: [], counted: [], quantity };
  const parts: PartInput[] = [];
  const needed: NeededPart[] = [];
  const many = random.pick(cutting ? [1, 1, 2] : [1, 2, 2, 3, 3]);
  const kinds = cutting ? CUTTING : KINDS;
  for (let index = 0; index < many; index += 1) {
    const kind = random.pick(
      kinds.filter((each) => each === 'counted' || !parts.some(({ code }) => code === each)),
    );
    const code = kind === 'counted' ? `clip-${index}` : kind;
    parts.push(partOf(kind, code, random.percent(15) ? undefined : weight(kind, random)));
    if (kind === 'counted') {
      const each = random.whole(1, quantity === 1 ? 9 : 5);
      wanted.counted.push({ part: code, quantity: each });
      needed.push({ kind, part: code, quantity: each * quantity });
      continue;
    }
    const lengths = Array.from({ length: random.whole(cutting ? 2 : 1, 3) }, () => lengthOf(kind, random));
    const pieces = lengths.flatMap((mm) => Array<number>(quantity).fill(mm));
    if (kind === 'sleeve' || kind === 'tape')
      wanted.coverings.push(
        ...lengths.map((mm) => ({
          kind: kind === 'tape' ? ('tape' as const) : ('pvc' as const),
          part: code,
          mm,
        })),
      );
    else wanted.wires.push(...lengths.map((mm) => ({ colour: kind, mm })));
    needed.push({ kind: kind === 'red' || kind === 'blue' ? 'wire' : kind, part: code, pieces });
  }
  return { wanted, parts, needed };
}

/** Grams of a piece, or of a metre, to the milligram. */
function weight(kind: (typeof KINDS)[number], random: Random): number {
  return random.pick(kind === 'counted' ? [2.5, 5, 7.125, 10, 12.345, 20] : [5.25, 8, 9.999, 12.5]);
}

/** Halves and wholes of the usual fixed lengths, often a little less. */
function lengthOf(kind: (typeof KINDS)[number], random: Random): number {
  const whole = random.pick(
    kind === 'tape' ? [1000, 1500, 2000, 3000, 4000, 5000] : [500, 750, 1000, 1000, 1500, 1500, 2000, 2500],
  );
  return whole - random.pick([0, 0, 20, 25, 50, 75, 100, random.whole(1, 200)]);
}
