import type { Certificate } from '../../../worker/engine/sourcing/search/certificate.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';

/** What each supplier may do: the bands that its parcel may be in; `NOTHING`: it sends none. */
type Box = readonly ReadonlySet<number>[];
const NOTHING = -1;

/** Parts are made up to so many. */
const MOST_PARTS = 20_000;

/**
 * Whether the certificates together close all that suppliers may do: each closes a box of it, and what is left of one part
 * after taking a box out is at the most one part for each supplier.
 */
export function closesAll({ suppliers }: Problem, certificates: readonly Certificate[]): boolean {
  const all: Box = suppliers.map(({ own, bands }) => new Set(own ? [NOTHING] : [NOTHING, ...bands.keys()]));
  // Choices are only left out of what plans leave open.
  const boxes = certificates
    .filter(({ closes }) => closes.what !== 'choices')
    .map((certificate) => boxOf(suppliers, certificate));
  const open: Box[] = [all];
  for (let parts = 0; parts < MOST_PARTS; parts++) {
    const part = open.pop();
    if (!part) return true;
    let fewest: Box[] | undefined;
    for (const box of boxes) {
      const left = without(part, box);
      if (left && (!fewest || left.length < fewest.length)) fewest = left;
      if (fewest && fewest.length <= 1) break;
    }
    if (!fewest) return false;
    open.push(...fewest);
  }
  return false;
}

function boxOf(suppliers: Problem['suppliers'], { ground, closes }: Certificate): Box {
  return suppliers.map(({ own }, supplier) => {
    const { open, must } = ground[supplier] ?? { open: [], must: false };
    if (own) return new Set([NOTHING]);
    if (closes.what === 'parcel' && closes.supplier === supplier) return new Set(closes.bands);
    if (closes.what === 'unused' && closes.supplier === supplier) return new Set([NOTHING]);
    return new Set([...open.flat(), ...(must ? [] : [NOTHING])]);
  });
}

/** What is left of a part without a box, in parts that have nothing in common; undefined where the box takes nothing of it. */
function without(part: Box, box: Box): Box[] | undefined {
  const inBoth = part.map((own, at) => new Set([...own].filter((one) => box[at]?.has(one) === true)));
  if (inBoth.some(({ size }) => size === 0)) return undefined;
  return part.flatMap((own, at): Box[] => {
    const outside = new Set([...own].filter((one) => box[at]?.has(one) !== true));
    if (outside.size === 0) return [];
    return [
      part.map((other, place) => (place < at ? (inBoth[place] ?? other) : place === at ? outside : other)),
    ];
  });
}
