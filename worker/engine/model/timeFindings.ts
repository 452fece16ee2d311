import { pointer, type Finding } from './finding.ts';
import { mostSeconds, TIME_SETTINGS, type ClubSettings, type Settings } from './settings.ts';

/** Each time that a quote asks for and that is more than its club lets it have. `within`: where its settings are in the document. */
export function timeFindings(
  club: ClubSettings,
  quote: Settings | undefined,
  ...within: string[]
): Finding[] {
  return TIME_SETTINGS.flatMap((name): Finding[] => {
    const asked = quote?.[name];
    const most = mostSeconds(name, club);
    if (asked === undefined || asked <= most) return [];
    return [
      {
        code: 'too-much-time',
        severity: 'stop',
        at: pointer([...within, 'settings', name]),
        where: `settings, ${name}`,
        found: `${asked} s`,
        limit: `at most ${most} s`,
        todo: `Ask for at most ${most} s. For more, set secondsAtMost in the settings of the club.`,
      },
    ];
  });
}
