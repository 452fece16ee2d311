import type { JobLoom } from '../../model/job.ts';
import { SIDES } from '../../model/loom.ts';
import type { AskedLoom } from '../asked.ts';
import type { Circuits } from './circuits.ts';

type Point = JobLoom['points'][number];

/** Earth in DIN 72552. */
const EARTH_PIN = '31';
/** What users call it, where the name begins with it: "earth, left rear", not "battery of positive earth". */
const EARTH_NAME = /^(earth|ground)(?![a-z])/i;

/**
 * The groups of circuits that are known to be earth: a wire of theirs names its circuit so, ends at a stud that is named
 * so, or in the way 31 of a device. Where the return is insulated none is.
 */
export function earthedGroups(looms: readonly AskedLoom[], circuits: Circuits): ReadonlySet<number> {
  const groups = new Set<number>();
  for (const { loom } of looms) {
    if (loom.earth === 'insulatedReturn') continue;
    const points = new Map(loom.points.map((point) => [point.id, point]));
    for (const wire of loom.wires) {
      const earthed =
        EARTH_NAME.test(wire.circuit ?? '') ||
        SIDES.some((side) => isEarth(points.get(wire[side].point), wire[side].way));
      if (earthed) groups.add(circuits.of(loom.code, wire.id).group);
    }
  }
  return groups;
}

function isEarth(point: Point | undefined, way: string | undefined): boolean {
  if (point?.kind === 'device') return way === EARTH_PIN;
  return point?.kind === 'stud' && (EARTH_NAME.test(point.id) || EARTH_NAME.test(point.label ?? ''));
}
