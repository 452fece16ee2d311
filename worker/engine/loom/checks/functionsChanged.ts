import type { Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import { cableFigures } from '../../trade/cableFigures.ts';
import { tradeAreaMm2 } from '../../trade/wireSizes.ts';
import type { CheckContext } from './context.ts';
import { atWire, eachWire } from './eachWire.ts';
import type { Placement } from './inPlace.ts';

/** A figure of a wire that is cut by its function, and the same of what would be bought for it. */
interface Figures {
  what: string;
  unit: string;
  own: number | undefined;
  other: number | undefined;
}

/**
 * Wires cut by their function for which wire of another figure would be bought: a resistor wire is cut for its ohms a metre,
 * and a fusible link melts by its size. No loom accepts these, as the cut length would be wrong.
 */
export function functionsChanged(context: CheckContext, placements: readonly Placement[]): Finding[] {
  const ofWires = placements.flatMap(({ requirement, part }) =>
    requirement.kind === 'wire'
      ? requirement.pieces.map(({ loom, wire }) => [`${loom} ${wire}`, part] as const)
      : [],
  );
  if (ofWires.length === 0) return [];
  const placed = new Map(ofWires);
  return eachWire(context.looms).flatMap((place): Finding[] => {
    const { wire, asked } = place;
    const part = placed.get(`${asked.loom.code} ${wire.id}`);
    if (!part || !wire.function) return [];
    const { what, unit, own, other } = figuresOf(wire, wire.function, part, context);
    if (own !== undefined && own === other) return [];
    return [
      {
        code: 'function-changed',
        severity: 'stop',
        ...atWire(place, 'function'),
        found: other === undefined ? `no ${what} of ${part.code} is known` : `${what} ${other} ${unit}`,
        limit: own === undefined ? `the ${what} of its own wire` : `${own} ${unit}, for which it is cut`,
        todo: 'Name a wire with the same figure.',
      },
    ];
  });
}

function figuresOf(
  wire: Wire,
  purpose: NonNullable<Wire['function']>,
  part: Part,
  { figures }: CheckContext,
): Figures {
  const other = part.kind === 'wire' ? part : undefined;
  if ('fixedMm' in purpose)
    return {
      what: 'size',
      unit: 'mm²',
      own: tradeAreaMm2(wire.size),
      other: other && tradeAreaMm2(other.size),
    };
  return {
    what: 'resistance',
    unit: 'mΩ/m',
    own: figures.of(wire).milliohmPerM?.value,
    other:
      other &&
      (other.resistanceMilliohmPerM ?? cableFigures(other.cableType, other.size).milliohmPerM?.value),
  };
}
