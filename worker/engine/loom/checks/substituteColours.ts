import { shadesOf, shadeWords } from '../../model/colour.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import { cannotMatter } from './colours.ts';
import type { CheckContext } from './context.ts';
import { someOf } from './words.ts';
import { pathOf, whereOf, type EndAt, type PointAt } from './terminations.ts';

/** Wires bought plain with a sleeve for their tracer, beside wires of other circuits that are plain in the same shade. */
export function checkSubstituteColours(context: CheckContext, points: readonly PointAt[]): Finding[] {
  const isSubstitute = substitutes(context);
  const groupOf = ({ asked, wire }: EndAt) => context.circuits.of(asked.loom.code, wire.id).group;
  return points.flatMap((at): Finding[] => {
    if (cannotMatter(at) || !at.ends.some(({ wire }) => isSubstitute(wire))) return [];
    const plain = new Map<string, EndAt[]>();
    for (const each of at.ends) {
      const { base, tracer } = shadesOf(each.wire.colour);
      if (tracer === undefined || isSubstitute(each.wire)) addTo(plain, base, each);
    }
    return [...plain.values()].flatMap((same) => {
      const stand = same.filter(({ wire }) => isSubstitute(wire));
      const [first] = stand;
      if (!first || new Set(same.map(groupOf)).size < 2) return [];
      return [matched(at, first, stand, same)];
    });
  });
}

function matched(at: PointAt, first: EndAt, stand: readonly EndAt[], same: readonly EndAt[]): Finding {
  const { base } = shadesOf(first.wire.colour);
  const ids = (ends: readonly EndAt[]) => someOf(ends.map(({ wire }) => wire.id));
  return {
    code: 'substitute-matches-neighbour',
    severity: 'warning',
    at: pointer([...pathOf(first).slice(0, -1), 'colourRule']),
    where: `${whereOf(first)}, at point ${at.point.id}`,
    subject: `${at.subject}:colour:${base}`,
    found: `plain ${shadeWords(base)} on different circuits at point ${at.point.id}: wires ${ids(same)}, of these, bought plain instead of with a tracer: ${ids(stand)}`,
    limit: 'a base colour that no other circuit has at the point',
    source: 'common practice, no source',
    todo: 'Only the sleeves show which is which. Enter an offer of the wire with its tracer, or use another base colour for it.',
  };
}

/** Finds whether a wire is bought plain: its rule says so, and nobody offers it with its tracer. */
function substitutes({ standFor, figures }: CheckContext): (wire: Wire) => boolean {
  return (wire) =>
    wire.colourRule === 'plainBaseWithTracerSleeve' &&
    wire.supply === 'buy' &&
    wire.inCable === undefined &&
    standFor(wire, figures.of(wire).outsideDiameterMm?.value).tracerSleeve !== undefined;
}
