import { OPERATION_NAMES, operationOf } from '../../../worker/engine/model/labour.ts';
import {
  DEFAULT_SETTINGS,
  SECONDS_AT_MOST,
  SETTING_NAMES,
  settingDescription,
  settingText,
  TIME_SETTINGS,
} from '../../../worker/engine/model/settings.ts';

/** A row for each setting: its name, its default, what it is for. */
export function settingsTable(): string {
  const rows = SETTING_NAMES.map(
    (name) => `| \`${name}\` | ${settingText(DEFAULT_SETTINGS[name])} | ${settingDescription(name)} |`,
  );
  return [
    '| setting | default | what it does |',
    '| --- | --- | --- |',
    ...rows,
    '',
    `How long a quote may take is limited by the club: \`secondsAtMost\` in the settings of the club, ${SECONDS_AT_MOST} where it is left out. A quote may set \`${TIME_SETTINGS.join('`, `')}\` to at most this, each, or to what the club sets it to, if that is more. A quote that asks for more is refused, by the server and by the price command.`,
    '',
    ...operationsTable(),
  ].join('\n');
}

/** A row for each operation of labour: its name, what is counted, its default minutes. */
function operationsTable(): string[] {
  return [
    '## Operations of labour',
    '',
    'The names that `labourMinutes` takes, in the order of the work, with the default minutes. **All of these minutes are from memory, no source: put your own.**',
    '',
    '| operation | what is done | minutes | for each | notes |',
    '| --- | --- | --- | --- | --- |',
    ...OPERATION_NAMES.map((name) => {
      const { label, unit, hundredths, isOnce, evenIfBought } = operationOf(name);
      const notes = [
        ...(isOnce ? ['once for all looms that are made alike'] : []),
        ...(evenIfBought ? ['also for a loom that is bought made'] : []),
      ];
      return `| \`${name}\` | ${label} | ${hundredths / 100} | ${unit} | ${notes.join('; ')} |`;
    }),
    '',
  ];
}
