import { SIDES } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import { passesOver, SHRINK_SOURCE } from '../../trade/shrink.ts';
import type { CheckContext } from './context.ts';

/** Boots and sleeves over wire ends that do not go over the wire: heat-shrink must be wider, the rest no narrower. */
export function checkCovers({ looms, parts, figures }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index }) =>
    loom.wires.flatMap((wire, wireIndex) =>
      SIDES.flatMap((side): Finding[] => {
        const part = parts.get(wire[side].cover?.part ?? '');
        const bore = part && boreOf(part);
        const outside = bore && figures.of(wire).outsideDiameterMm;
        if (!part || !bore || !outside || goesOver(bore, outside.value)) return [];
        return [
          {
            code: 'cover-too-small',
            severity: 'warning',
            at: pointer(['looms', index, 'wires', wireIndex, side, 'cover', 'part']),
            where: `loom ${loom.code}, wire ${wire.id}, ${side}, cover`,
            subject: `wire:${wire.id}:${side}`,
            found: `${part.code}, a bore of ${bore.mm} mm${bore.shrinks ? ' as supplied' : ''} over a wire of up to ${outside.value} mm`,
            limit: `a bore of ${bore.shrinks ? 'more than' : 'at least'} ${outside.value} mm`,
            source: bore.shrinks ? `${SHRINK_SOURCE}; ${outside.source}` : outside.source,
            todo: 'Name a wider cover, or correct its bore.',
          },
        ];
      }),
    ),
  );
}

interface Bore {
  mm: number;
  shrinks: boolean;
}

function boreOf(part: Part): Bore | undefined {
  if ((part.kind !== 'boot' && part.kind !== 'sleeve') || part.boreMm === undefined) return undefined;
  return { mm: part.boreMm, shrinks: part.kind === 'sleeve' && part.sleeveType === 'heatShrink' };
}

function goesOver({ mm, shrinks }: Bore, outsideMm: number): boolean {
  return shrinks ? passesOver(mm, outsideMm) : mm >= outsideMm;
}
