import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import type { CheckContext } from './context.ts';
import { wayRoundOf, type WayRound } from './wayRound.ts';

type Device = Extract<Part, { kind: 'device' }>;

/** Devices that current spoils or blocks the wrong way round. A lamp, a relay or a thermal flasher does not care. */
const CARES: readonly Device['deviceType'][] = ['diode', 'electronics'];

/**
 * Devices made for the other earth, by the part; and devices the wrong way round, by their pins and the wires at them. Where
 * the return is insulated nothing is earthed, and nothing is checked.
 */
export function checkEarth(context: CheckContext): Finding[] {
  const { looms, parts, protection } = context;
  const ends = new Map(protection.points.map((at) => [at.point, at] as const));
  const codes = new Set(
    looms.flatMap(({ loom, unclear }) => [loom.code, ...unclear.map(({ name }) => name)]),
  );
  return looms.flatMap(({ loom, index }) =>
    loom.earth === 'insulatedReturn'
      ? []
      : loom.points.flatMap((point, pointIndex) => {
          const part = point.part === undefined ? undefined : parts.get(point.part);
          const others = point.suppliedByLoom !== undefined && point.suppliedByLoom !== loom.code;
          // Told at the loom that brings it.
          if (part?.kind !== 'device' || (others && codes.has(point.suppliedByLoom ?? ''))) return [];
          const at = ends.get(point);
          const round = at && wayRoundOf(at, context);
          return polarity(part, loom.earth, round).map((finding) => ({
            ...finding,
            at: pointer(['looms', index, 'points', pointIndex, 'part']),
            where: `loom ${loom.code}, point ${point.id}`,
            subject: `point:${point.id}`,
          }));
        }),
  );
}

function polarity(part: Device, earth: string, round: WayRound | undefined): Omit<Finding, 'at' | 'where'>[] {
  const made = part.madeForEarth;
  if (made !== undefined && made !== 'either' && made !== earth)
    return [
      {
        code: 'wrong-earth',
        severity: 'stop',
        found: `${part.code} (${part.deviceType}), made for ${made} earth`,
        limit: `a device made for ${earth} earth`,
        source: `part ${part.code}`,
        todo: `Use one that is made for ${earth} earth, or for either earth; or correct the earth of the loom.`,
      },
    ];
  if (round && round.wrong.length > 0)
    return round.wrong.map((finding) => ({
      ...finding,
      found: `${part.code} (${part.deviceType}): ${finding.found}`,
    }));
  // What its pins and wires say needs no word of the part.
  if (made === undefined && round?.known !== true && earth === 'positive' && CARES.includes(part.deviceType))
    return [
      {
        code: 'earth-not-stated',
        severity: 'note',
        found: `${part.code} (${part.deviceType}) in a loom of positive earth; the part does not state which earth it is made for`,
        source: 'common practice, no source: most are made for negative earth',
        todo: 'Find out which earth it is made for, and state madeForEarth at the part.',
      },
    ];
  return [];
}
