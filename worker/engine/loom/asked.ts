import { addTo } from '../model/group.ts';
import type { Job, JobLoom } from '../model/job.ts';
import { resolveSettings, type EffectiveSettings, type SettingValues } from '../model/settings.ts';
import { valuesOf } from '../job/settings.ts';
import { terminalsOf, type TerminalOf } from './counts/terminals.ts';
import { waysOf, type Ways } from './graph/ways.ts';

/** A loom of the request: what it holds, how many are asked for, and the settings that hold for it. */
export interface AskedLoom {
  loom: JobLoom;
  /** Its place in the job's list of looms: what pointers start with. */
  index: number;
  quantity: number;
  /** Chosen for this quote. */
  options: string[];
  ways: Ways;
  terminalOf: TerminalOf;
  effective: EffectiveSettings;
  settings: SettingValues;
}

/** The looms of a normalised job that are asked for, in the order of their codes. */
export function askedLooms(job: Job): AskedLoom[] {
  // A loom may come with several orders.
  const lines = new Map<string, Job['request']['looms']>();
  for (const line of job.request.looms) addTo(lines, line.loom, line);
  return job.looms.flatMap((loom, index) => {
    const [first, ...others] = lines.get(loom.code) ?? [];
    if (!first) return [];
    const { options = [] } = first;
    const quantity = others.reduce((sum, line) => sum + line.quantity, first.quantity);
    const effective = resolveSettings({
      club: job.club.settings,
      loom: loom.settings,
      quote: job.request.settings,
    });
    return [
      {
        loom,
        index,
        quantity,
        options,
        ways: waysOf(loom),
        terminalOf: terminalsOf(loom),
        effective,
        settings: valuesOf(effective),
      },
    ];
  });
}
