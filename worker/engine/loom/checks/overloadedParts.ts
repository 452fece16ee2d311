import { SIDES } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { AskedLoom } from '../asked.ts';
import type { CheckContext } from './context.ts';
import { atWire, type WirePlace } from './eachWire.ts';

/** Terminals rated for less than the wire in them carries. */
export function overloadedTerminals({ parts }: CheckContext, wires: readonly WirePlace[]): Finding[] {
  return wires.flatMap((place) =>
    SIDES.flatMap((side): Finding[] => {
      const code = place.asked.terminalOf(place.wire[side])?.part;
      const part = code === undefined ? undefined : parts.get(code);
      const { amps = 0 } = place.wire;
      if (part?.kind !== 'terminal' || part.ratedAmps === undefined || amps <= part.ratedAmps) return [];
      const at = atWire(place, side);
      return [
        {
          code: 'terminal-overloaded',
          severity: 'warning',
          ...at,
          where: `${at.where}, ${side}`,
          subject: `${at.subject ?? ''}:${side}`,
          found: `${amps} A through ${part.code}`,
          limit: `at most ${part.ratedAmps} A`,
          source: `part ${part.code}`,
          todo: 'Use a terminal that is rated for this current, or share the current between more wires.',
        },
      ];
    }),
  );
}

/** Devices rated for less than the heaviest of their wires carries; one finding a device. */
export function overloadedDevices({ looms, parts }: CheckContext, wires: readonly WirePlace[]): Finding[] {
  const heaviest = new Map<AskedLoom, Map<string, WirePlace>>();
  for (const place of wires) {
    const ofLoom = heaviest.get(place.asked) ?? new Map<string, WirePlace>();
    heaviest.set(place.asked, ofLoom);
    for (const side of SIDES) {
      const { point } = place.wire[side];
      if ((place.wire.amps ?? 0) > (ofLoom.get(point)?.wire.amps ?? 0)) ofLoom.set(point, place);
    }
  }
  return looms.flatMap((asked) =>
    asked.loom.points.flatMap((point, index): Finding[] => {
      const part = point.part === undefined ? undefined : parts.get(point.part);
      const wire = heaviest.get(asked)?.get(point.id)?.wire;
      if (part?.kind !== 'device' || part.ratedAmps === undefined || wire?.amps === undefined) return [];
      // What goes through a fuse is held against it where all fuses are.
      if (part.deviceType === 'fuse' || part.fuseBasis !== undefined) return [];
      if (wire.amps <= part.ratedAmps) return [];
      return [
        {
          code: 'device-overloaded',
          severity: 'warning',
          at: pointer(['looms', asked.index, 'points', index, 'part']),
          where: `loom ${asked.loom.code}, point ${point.id}`,
          subject: `point:${point.id}`,
          found: `${wire.amps} A of wire ${wire.id} through ${part.code}`,
          limit: `at most ${part.ratedAmps} A`,
          source: `part ${part.code}`,
          todo: 'Use a device that is rated for this current, switch the current through a relay, or correct the amps.',
        },
      ];
    }),
  );
}
