import type { Job } from '../model/job.ts';
import { waveOf } from '../model/request.ts';
import { resolveSettings, type EffectiveSettings, type SettingValues } from '../model/settings.ts';
import { valuesOf } from '../job/settings.ts';
import { terminalsOf, type TerminalOf } from './counts/terminals.ts';
import { waysOf, type Ways } from './graph/ways.ts';
import { madeLooms, type MadeLoom } from './madeLooms.ts';

/** A loom of the request: what it holds, how many are asked for, and the settings that hold for it. */
export interface AskedLoom extends Omit<MadeLoom, 'lines'> {
  /** Its place among all looms of the request: what pointers start with until inJob turns them. */
  index: number;
  quantity: number;
  /** It is bought made: nothing is bought for it, and the others meet it as it is drawn. */
  boughtMade?: true;
  ways: Ways;
  terminalOf: TerminalOf;
  effective: EffectiveSettings;
  settings: SettingValues;
}

const NONE: ReadonlySet<string> = new Set();

/**
 * The looms of a normalised job that are asked for, one for each set of options, in the order of their codes; with
 * `lastWave` those of the orders up to that one. `boughtMade`: the names of those that are bought made.
 */
export function askedLooms(job: Job, lastWave = Infinity, boughtMade = NONE): AskedLoom[] {
  return madeLooms(job).flatMap(({ lines, ...made }, index): AskedLoom[] => {
    // A loom may come with several orders.
    const own = lines.filter((line) => waveOf(line) <= lastWave);
    if (own.length === 0) return [];
    const effective = resolveSettings({
      club: job.club.settings,
      loom: made.loom.settings,
      quote: job.request.settings,
    });
    return [
      {
        ...made,
        index,
        quantity: own.reduce((sum, line) => sum + line.quantity, 0),
        ...(boughtMade.has(made.loom.code) ? { boughtMade: true as const } : {}),
        ways: waysOf(made.loom),
        terminalOf: terminalsOf(made.loom),
        effective,
        settings: valuesOf(effective),
      },
    ];
  });
}
