import { byCode } from '../../model/code.ts';
import type { FitStatus } from '../../model/fit.ts';
import { addTo } from '../../model/group.ts';
import type { Job } from '../../model/job.ts';
import type { SettingValues } from '../../model/settings.ts';

/** A part that may be bought in place of another, and how surely that is known. */
export interface StandIn {
  part: string;
  status: 'confirmed' | 'proposed';
  by: string | undefined;
}

/**
 * The parts that may stand in for each part, by code: what the parts themselves state, and what fits say. A confirmation
 * outweighs a proposal; what was refuted once stands in for nothing.
 */
export function standInsFor(
  { parts, fits }: Pick<Job, 'parts' | 'fits'>,
  accepted: SettingValues['standInsAccepted'],
): ReadonlyMap<string, readonly StandIn[]> {
  const known = new Map<string, { to: string; part: string; status: FitStatus; by: string | undefined }>();
  const learn = (part: string, to: string, status: FitStatus, by: string | undefined) => {
    // Codes hold no space.
    const key = `${part} ${to}`;
    const before = known.get(key);
    if (before === undefined || WEIGHT[status] > WEIGHT[before.status])
      known.set(key, { to, part, status, by });
  };
  for (const { code, standsInFor = [] } of parts)
    for (const stated of standsInFor)
      if ('part' in stated && stated.part !== code)
        learn(
          code,
          stated.part,
          stated.confirmedBy === undefined ? 'proposed' : 'confirmed',
          stated.confirmedBy,
        );
  for (const { from, relation, to, status, by } of fits)
    if (relation === 'standsInFor') learn(from, to, status, by);
  const standIns = new Map<string, StandIn[]>();
  for (const { to, part, status, by } of known.values())
    if (status !== 'refuted' && accepted.includes(status)) addTo(standIns, to, { part, status, by });
  for (const list of standIns.values()) list.sort((a, b) => byCode(a.part, b.part));
  return standIns;
}

const WEIGHT: Record<FitStatus, number> = { proposed: 0, confirmed: 1, refuted: 2 };
