import type { Random } from '../random.ts';
import { partOf, toolOf, type LoomWants, type PartInput } from '../whole/jobOf.ts';
import type { RulesOn } from './rules.ts';

export type LengthKind = 'red' | 'blue' | 'sleeve' | 'tape';

/** What is needed of a part by count: how many, and about what a piece costs, in minor units. */
export interface CountRequirement {
  part: string;
  needed: number;
  piece: number;
}

/** What is needed of wire, sleeve or tape: pieces in mm, and about what a metre costs. */
export interface LengthRequirement {
  kind: LengthKind;
  pieces: number[];
  metre: number;
  /** Nobody sells it in fixed lengths. */
  byTheMetre: boolean;
}

/** What a job needs, and the catalogue for it. */
export interface Requirements {
  counted: CountRequirement[];
  lengths: LengthRequirement[];
  /** Parts that nobody needs themselves: they stand in, or are tools. */
  beside: CountRequirement[];
  parts: PartInput[];
}

const KINDS: readonly LengthKind[] = ['red', 'blue', 'sleeve', 'tape'];
const OF_FAMILY = ['housing', 'terminal', 'seal'] as const;

/** So many requirements: two to four by length, three of a family, the rest single parts. */
export function requirementsOf(random: Random, requirements: number, on: RulesOn): Requirements {
  const lengths = KINDS.filter((_, index) => index < 1 || random.percent(60)).map((kind) =>
    lengthRequirement(random, kind, on),
  );
  const singles = requirements - lengths.length - OF_FAMILY.length;
  const clips = Array.from({ length: singles }, (_, index) => countRequirement(random, `clip-${index + 1}`));
  const family = OF_FAMILY.map((kind) => countRequirement(random, `old-${kind}`));
  const standIns = on.standIns ? ['spare-1', 'spare-2'].map((part) => countRequirement(random, part)) : [];
  const other = on.families
    ? family.map(({ part, ...rest }) => ({ ...rest, part: part.replace('old', 'new') }))
    : [];
  const tools = on.tools ? ['press', 'pliers'].slice(0, random.whole(1, 2)) : [];
  const heavy = () => ({ weightG: random.pick([0.5, 2, 5, 12.5, 20]) });
  return {
    counted: [...clips, ...family],
    lengths,
    beside: [
      ...standIns,
      ...other,
      ...tools.map((part) => ({ part, needed: 1, piece: random.whole(300, 1500) })),
    ],
    parts: [
      ...lengths.map(({ kind }) => partOf(kind, kind, heavy())),
      ...clips.map(({ part }) =>
        partOf('clip', part, {
          ...heavy(),
          // One that is needed itself may stand in for the next.
          ...(on.standIns && part === 'clip-2' && { standsInFor: [{ part: 'clip-3', confirmedBy: 'Ann' }] }),
        }),
      ),
      ...standIns.map(({ part }, index) =>
        partOf('clip', part, {
          ...heavy(),
          standsInFor: [
            { part: `clip-${index + 1}`, confirmedBy: 'Ann' },
            ...(random.percent(50) ? [{ part: 'clip-4', confirmedBy: 'Ann' }] : []),
          ],
        }),
      ),
      ...OF_FAMILY.map((kind) => partOf(kind, `old-${kind}`, { ...heavy(), family: 'old' })),
      ...(on.families
        ? OF_FAMILY.map((kind) =>
            partOf(kind, `new-${kind}`, {
              ...heavy(),
              family: 'new',
              standsInFor: [{ part: `old-${kind}`, confirmedBy: 'Ann' }],
            }),
          )
        : []),
      ...tools.map((tool) =>
        toolOf(tool, tool === 'press' ? ['old'] : random.pick([['new'], ['old', 'new']])),
      ),
    ],
  };
}

/** As many cheap parts as dear ones on a scale of ratios: 5 to 200 pence, 1 to 40 pieces. */
function countRequirement(random: Random, part: string): CountRequirement {
  return {
    part,
    needed: Math.round(40 ** (random.whole(0, 1000) / 1000)),
    piece: Math.round(5 * 40 ** (random.whole(0, 1000) / 1000)),
  };
}

function lengthRequirement(random: Random, kind: LengthKind, on: RulesOn): LengthRequirement {
  const longest = random.pick([900, 1800, 2500]);
  return {
    kind,
    pieces: Array.from({ length: random.whole(3, 12) }, () => random.whole(20, longest / 10) * 10),
    metre: random.whole(30, 150),
    byTheMetre: on.byTheMetre && random.percent(30),
  };
}

/** What looms hold of the needs: all in one, or, with a later order, some in each. */
export function wantsOf(
  random: Random,
  { counted, lengths }: Requirements,
  on: RulesOn,
): Record<string, LoomWants> {
  const loomOf = (
    own: readonly CountRequirement[],
    pieces: (requirement: LengthRequirement) => number[],
  ): LoomWants => {
    const cut = lengths.map((requirement) => ({ kind: requirement.kind, pieces: pieces(requirement) }));
    return {
      wires: cut.flatMap(({ kind, pieces }) =>
        kind === 'red' || kind === 'blue' ? pieces.map((mm) => ({ colour: kind, mm })) : [],
      ),
      coverings: cut.flatMap(({ kind, pieces }) =>
        kind === 'sleeve' || kind === 'tape'
          ? pieces.map((mm) => ({
              kind: kind === 'tape' ? ('tape' as const) : ('pvc' as const),
              part: kind,
              mm,
            }))
          : [],
      ),
      counted: own.flatMap(({ part, needed }) => [
        { part, quantity: needed },
        ...(on.shelf && random.percent(10) ? [{ part, quantity: 1, supply: 'stock' as const }] : []),
      ]),
    };
  };
  if (!on.orders) return { main: loomOf(counted, ({ pieces }) => pieces) };
  const half = Math.ceil(counted.length / 2);
  return {
    main: loomOf(counted.slice(0, half + 2), ({ pieces }) => pieces.slice(0, Math.ceil(pieces.length / 2))),
    later: loomOf(counted.slice(half), ({ pieces }) => pieces.slice(Math.ceil(pieces.length / 2))),
  };
}
