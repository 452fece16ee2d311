import { byCode } from '../model/code.ts';
import { colourKey, type Colour, type Shade } from '../model/colour.ts';
import { addTo } from '../model/group.ts';
import type { WirePart } from '../model/part.ts';
import { tradeAreaMm2, tradeKey } from '../trade/wireSizes.ts';
import { sizesKey, specKey, type WireSpec } from './wireSpec.ts';

/** How many near misses are worth naming, and how many of them in other sizes. */
const NEAREST = 5;
const NEAREST_SIZES = 3;

/** Shades that pass for one another on an old loom: common practice, no source. */
const LIKE: readonly (readonly [Shade, Shade])[] = [
  ['green', 'lightGreen'],
  ['blue', 'lightBlue'],
  ['purple', 'lilac'],
  ['red', 'pink'],
  ['yellow', 'gold'],
  ['grey', 'silver'],
  ['white', 'natural'],
  ['lightBlue', 'turquoise'],
];

/** What is alike where nothing is nearer: all but the cable type; then all but the colour. */
const FURTHER: readonly ((spec: WireSpec) => string)[] = [
  (spec) => `${tradeKey(spec.size)}:${colourKey(spec.colour)}`,
  sortKeyOf,
];

/**
 * Finds the catalogue's wires that come nearest to one that cannot be had: in the same cable type and colour the next
 * sizes, larger ones first; then in the same size the near colours. Where there is none of these, the same size and colour
 * of another cable type; else the same cable type and size in any colour. At most five. Where a thinner wire is not wanted,
as it would carry less than the wire has to, only those known to be larger are named of the other sizes.
 */
export function nearMisses(
  wires: readonly WirePart[],
): (spec: WireSpec, wanted?: { thinner: boolean }) => WirePart[] {
  const sorted = [...wires].sort((a, b) => byCode(a.code, b.code));
  const bySizes = grouped(sorted, sizesKey);
  const bySort = grouped(sorted, sortKeyOf);
  const further = FURTHER.map((likeness) => ({ likeness, alike: grouped(sorted, likeness) }));
  return (spec, { thinner } = { thinner: true }) => {
    const own = specKey(spec);
    const others = (group: readonly WirePart[] = []) => group.filter((part) => specKey(part) !== own);
    const sizes = ranked(others(bySizes.get(sizesKey(spec))), (part) => sizeRank(spec, part, thinner));
    const colours = ranked(others(bySort.get(sortKeyOf(spec))), ({ colour }) =>
      colourRank(spec.colour, colour),
    );
    const near = [...sizes.slice(0, NEAREST_SIZES), ...colours].slice(0, NEAREST);
    if (near.length > 0) return near;
    for (const { likeness, alike } of further) {
      const found = others(alike.get(likeness(spec)));
      if (found.length > 0) return found.slice(0, NEAREST);
    }
    return [];
  };
}

function sortKeyOf({ cableType, size }: WireSpec): string {
  return `${cableType}:${tradeKey(size)}`;
}

function grouped(wires: readonly WirePart[], keyOf: (spec: WireSpec) => string): Map<string, WirePart[]> {
  const groups = new Map<string, WirePart[]>();
  for (const wire of wires) addTo(groups, keyOf(wire), wire);
  return groups;
}

/** Those that have a rank, the least first; equals by code. */
function ranked(wires: readonly WirePart[], rankOf: (wire: WirePart) => number | undefined): WirePart[] {
  return wires
    .flatMap((wire) => {
      const rank = rankOf(wire);
      return rank === undefined ? [] : [{ wire, rank }];
    })
    .sort((a, b) => a.rank - b.rank || byCode(a.wire.code, b.wire.code))
    .map(({ wire }) => wire);
}

const SMALLER = 1e6;

/** By how much it is larger; what is smaller carries less, and comes after all that is larger. */
function sizeRank(spec: WireSpec, part: WirePart, thinner: boolean): number | undefined {
  const [own, other] = [tradeAreaMm2(spec.size), tradeAreaMm2(part.size)];
  if (own === undefined || other === undefined) return thinner ? 2 * SMALLER : undefined;
  if (other >= own) return other === own && thinner ? SMALLER : other - own;
  return thinner ? SMALLER + own - other : undefined;
}

/** The same but for a like shade; plain, where a tracer is missing; another tracer; a like base. Other colours have none. */
function colourRank(own: Colour, other: Colour): number | undefined {
  const sameBase = own.base === other.base;
  if (!sameBase && !isLike(own.base, other.base)) return undefined;
  if (sameBase && isLike(own.tracer, other.tracer)) return 0;
  if (own.tracer === other.tracer) return 1;
  if (sameBase) return other.tracer === undefined ? 2 : 3;
  return 4;
}

function isLike(a: Shade | undefined, b: Shade | undefined): boolean {
  return LIKE.some(([one, two]) => (a === one && b === two) || (a === two && b === one));
}
