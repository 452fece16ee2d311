import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import {
  mostSeconds,
  resolveSettings,
  Settings,
  TIME_SETTINGS,
  type ClubSettings,
} from '../../worker/engine/model/settings.ts';
import { timeFindings } from '../../worker/engine/model/timeFindings.ts';
import { exampleJob } from '../support/fixtures.ts';

const seconds = fc.double({ min: 0.1, max: 3600, noNaN: true });
const layer = fc.record(
  { solverSeconds: seconds, besideSeconds: seconds, buildOrBuySeconds: seconds },
  { requiredKeys: [] },
);
const club = fc
  .tuple(layer, fc.option(seconds, { nil: undefined }))
  .map(([set, most]): ClubSettings => ({ ...set, ...(most === undefined ? {} : { secondsAtMost: most }) }));

describe('the time that a quote may take', () => {
  test('is what it asks for where no fault is told, and never more than the club lets it have', () => {
    fc.assert(
      fc.property(club, layer, (club, quote) => {
        const effective = resolveSettings({ club, quote });
        const faults = timeFindings(club, quote).map(({ at }) => at);
        for (const name of TIME_SETTINGS) {
          const asked = quote[name];
          expect(effective[name].value).toBeLessThanOrEqual(mostSeconds(name, club));
          if (asked === undefined) expect(effective[name].value).toBe(resolveSettings({ club })[name].value);
          else if (faults.includes(`/settings/${name}`)) expect(effective[name].origin).toBe('club');
          else expect(effective[name]).toEqual({ value: asked, origin: 'quote' });
        }
      }),
    );
  });

  test('may be as long as the club itself sets it, whatever it lets quotes ask for', () => {
    const club = { secondsAtMost: 60, solverSeconds: 900 };
    expect(resolveSettings({ club }).solverSeconds).toEqual({ value: 900, origin: 'club' });
    expect(timeFindings(club, { solverSeconds: 900 })).toEqual([]);
    expect(timeFindings(club, { solverSeconds: 901, besideSeconds: 61 }, 'request')).toMatchObject([
      { at: '/request/settings/solverSeconds', found: '901 s', limit: 'at most 900 s' },
      { at: '/request/settings/besideSeconds', found: '61 s', limit: 'at most 60 s' },
    ]);
  });

  test('is an hour only where the club says so', () => {
    expect(timeFindings({}, { solverSeconds: 3600 })).toHaveLength(1);
    expect(timeFindings({ secondsAtMost: 3600 }, { solverSeconds: 3600 })).toEqual([]);
  });

  test('is limited by the club alone: neither a quote nor a loom has the field', () => {
    expect(Settings.safeParse({ secondsAtMost: 60 }).success).toBe(false);
    const job = exampleJob('three-wires');
    const limited = { ...job, club: { ...job.club, settings: { secondsAtMost: 60 } } };
    expect(Job.safeParse(limited).success).toBe(true);
  });
});
