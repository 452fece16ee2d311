import { completeEnds } from '../../engine/job/completeEnds.ts';
import { addTo } from '../../engine/model/group.ts';
import type { Job, JobLoom } from '../../engine/model/job.ts';
import { SIDES } from '../../engine/model/loom.ts';
import { resolveSettings } from '../../engine/model/settings.ts';

/** So many ends are named; where there are more, their number is told. */
const MOST = 40;

/** What can be priced and is often a slip, in a sentence each: ends that nothing is said of, points that differ in capitals. */
export function doubtsOf({ looms, parts, club, request }: Job): string[] {
  const catalogue = new Map(parts.map((part) => [part.code, part]));
  return looms.flatMap((loom) => {
    const of = looms.length > 1 ? ` of ${loom.code}` : '';
    const rules = resolveSettings({ club: club.settings, loom: loom.settings, quote: request.settings });
    const bare = bareEnds(loom, completeEnds(loom, rules.endDefaults.value, catalogue));
    const more = bare.length > MOST ? ` and ${bare.length - MOST} more` : '';
    return [
      ...(bare.length > 0
        ? [`Ends${of} without a terminal: ${bare.slice(0, MOST).join(', ')}${more}. They count as bare.`]
        : []),
      ...alike(loom).map(
        (ids) =>
          `Points${of} whose names differ only in capitals: ${ids.join(', ')}. They count as different points. If they are one, write its name the same everywhere.`,
      ),
    ];
  });
}

/** Ends that state neither a terminal nor how they are joined, and count as bare; at a flying lead that is meant. */
function bareEnds(given: JobLoom, complete: JobLoom): string[] {
  const flying = new Set(given.points.filter(({ kind }) => kind === 'flyingLead').map(({ id }) => id));
  return given.wires.flatMap((wire, at) =>
    SIDES.filter(
      (side) =>
        wire[side].join === undefined &&
        complete.wires[at]?.[side].join === 'bare' &&
        !flying.has(wire[side].point),
    ).map((side) => `wire ${wire.id} ${side}`),
  );
}

function alike({ points }: JobLoom): string[][] {
  const byName = new Map<string, string[]>();
  for (const { id } of points) addTo(byName, id.toLowerCase(), id);
  return [...byName.values()].filter((ids) => ids.length > 1);
}
