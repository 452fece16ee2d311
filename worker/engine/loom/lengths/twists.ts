import { pointer, type Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import { twistFactor } from '../../trade/twist.ts';
import type { AskedLoom } from '../asked.ts';
import type { Twist } from './cutLength.ts';
import type { WireFigures } from '../wires/wireFigures.ts';

/**
 * The lay of each twisted wire of a loom, by wire id. A pair is stated at either of its wires. The middles of two wires
 * run on a circle of the mean of their outside diameters.
 */
export function twistsOf(
  { loom, index, settings }: AskedLoom,
  figures: WireFigures,
): { twists: ReadonlyMap<string, Twist>; findings: Finding[] } {
  const byId = new Map(loom.wires.map((wire) => [wire.id, wire]));
  const twists = new Map<string, Twist>();
  const findings: Finding[] = [];
  const told = new Set<string>();
  const diameterOf = (wire: Wire) => figures.of(wire).outsideDiameterMm?.value;
  loom.wires.forEach((wire, wireIndex) => {
    const other = wire.twistedWith === undefined ? undefined : byId.get(wire.twistedWith);
    if (!other) return;
    const [one, two] = [diameterOf(wire), diameterOf(other)];
    if (one === undefined || two === undefined) {
      // Stated at both wires, it is told at the first.
      if (other.twistedWith === wire.id && told.has(other.id)) return;
      told.add(wire.id);
      findings.push({
        code: 'twist-not-worked',
        severity: 'warning',
        at: pointer(['looms', index, 'wires', wireIndex, 'twistedWith']),
        where: `loom ${loom.code}, wire ${wire.id}`,
        subject: `wire:${wire.id}`,
        found: `twisted with ${other.id}, and the outside diameter of ${one === undefined ? wire.id : other.id} is not known`,
        todo: 'Nothing is added for the twist. State outsideDiameterMm at the wire part for it.',
      });
      return;
    }
    const factor = twistFactor((one + two) / 2, settings.twistPitchMm);
    // A third wire twisted with one of a pair lies no looser than the pair.
    const lay = (id: string, withId: string) => {
      if ((twists.get(id)?.factor ?? 0) < factor) twists.set(id, { factor, with: withId });
    };
    lay(wire.id, other.id);
    lay(other.id, wire.id);
  });
  return { twists, findings };
}
