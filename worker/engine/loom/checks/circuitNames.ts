import { pointer, type Finding } from '../../model/finding.ts';
import type { Circuit } from '../graph/circuits.ts';
import type { CheckContext } from './context.ts';

/** Circuits to which the looms give two names, though everything in them is joined. */
export function checkCircuitNames({ looms, circuits }: CheckContext): Finding[] {
  const several = circuits.all.filter(({ names }) => names.length > 1);
  if (several.length === 0) return [];
  const placeOf = new Map(
    looms.flatMap(({ loom, index }) =>
      loom.wires.map((wire, at) => [wire, ['looms', index, 'wires', at, 'circuit']] as const),
    ),
  );
  return several.flatMap(({ id, names, wires }): Finding[] => {
    const [first, ...others] = firstOfEachName(wires);
    const other = others[0];
    if (!first || !other) return [];
    return [
      {
        code: 'circuit-named-twice',
        severity: 'note',
        at: pointer(placeOf.get(other.wire) ?? []),
        where: `loom ${other.asked.loom.code}, wire ${other.wire.id}`,
        subject: `circuit:${id}`,
        found: `one circuit has the names ${names.join(' and ')}: wire ${first.wire.id} and wire ${other.wire.id} are joined`,
        limit: 'one name for each circuit',
        todo: 'Give the circuit one name. If the two circuits must not be joined, look for the point, shared terminal or way that joins them.',
      },
    ];
  });
}

function firstOfEachName(wires: Circuit['wires']): Circuit['wires'] {
  const seen = new Set<string>();
  return wires.filter(({ wire: { circuit } }) => {
    if (circuit === undefined || seen.has(circuit)) return false;
    seen.add(circuit);
    return true;
  });
}
