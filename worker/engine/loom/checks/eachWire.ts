import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import { sizeLabel } from '../../model/size.ts';
import type { AskedLoom } from '../asked.ts';
import { sortKey } from '../wires/wireFigures.ts';

/** A wire with its loom and its place in the loom's list. */
export interface WirePlace {
  asked: AskedLoom;
  wire: Wire;
  index: number;
}

/** Every wire of the looms, in their order. */
export function eachWire(looms: readonly AskedLoom[]): WirePlace[] {
  return looms.flatMap((asked) => asked.loom.wires.map((wire, index) => ({ asked, wire, index })));
}

/** Where a finding at a wire stands; `field` is one of the wire's own. */
export function atWire(
  { asked, wire, index }: WirePlace,
  ...field: string[]
): Pick<Finding, 'at' | 'where' | 'subject'> {
  return {
    at: pointer(['looms', asked.index, 'wires', index, ...field]),
    where: `loom ${asked.loom.code}, wire ${wire.id}`,
    subject: `wire:${wire.id}`,
  };
}

/** "pvc-vehicle 14/.012" */
export function sortWords({ cableType, size }: Wire): string {
  return `${cableType} ${sizeLabel(size)}`;
}

/** The wires of each cable type and size, in the order in which the types and sizes are first met. */
export function bySort(wires: readonly WirePlace[]): WirePlace[][] {
  const sorts = new Map<string, WirePlace[]>();
  for (const place of wires) addTo(sorts, sortKey(place.wire), place);
  return [...sorts.values()];
}

/** "pvc-vehicle 14/.012, first of 3 wires" */
export function firstOf(wires: readonly WirePlace[]): string {
  const [first] = wires;
  if (!first) return '';
  return wires.length === 1
    ? sortWords(first.wire)
    : `${sortWords(first.wire)}, first of ${wires.length} wires`;
}
