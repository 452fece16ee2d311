import { SIDES } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import type { CheckContext } from './context.ts';

/** Boots and sleeves over wire ends whose bore is under the wire's outside diameter. */
export function checkCovers({ looms, parts, figures }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index }) =>
    loom.wires.flatMap((wire, wireIndex) =>
      SIDES.flatMap((side): Finding[] => {
        const part = parts.get(wire[side].cover?.part ?? '');
        const bore = part && boreOf(part);
        const outside = bore === undefined ? undefined : figures.of(wire).outsideDiameterMm;
        if (part === undefined || bore === undefined || !outside || bore >= outside.value) return [];
        return [
          {
            code: 'cover-too-small',
            severity: 'warning',
            at: pointer(['looms', index, 'wires', wireIndex, side, 'cover', 'part']),
            where: `loom ${loom.code}, wire ${wire.id}, ${side}, cover`,
            subject: `wire:${wire.id}:${side}`,
            found: `${part.code}, a bore of ${bore} mm over a wire of up to ${outside.value} mm`,
            limit: `a bore of at least ${outside.value} mm`,
            source: outside.source,
            todo: 'Name a wider cover, or correct its bore.',
          },
        ];
      }),
    ),
  );
}

function boreOf(part: Part): number | undefined {
  return part.kind === 'boot' || part.kind === 'sleeve' ? part.boreMm : undefined;
}
