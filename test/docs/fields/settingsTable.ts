import {
  DEFAULT_SETTINGS,
  SETTING_NAMES,
  settingDescription,
  settingText,
} from '../../../worker/engine/model/settings.ts';

/** A row for each setting: its name, its default, what it is for. */
export function settingsTable(): string {
  const rows = SETTING_NAMES.map(
    (name) => `| \`${name}\` | ${settingText(DEFAULT_SETTINGS[name])} | ${settingDescription(name)} |`,
  );
  return ['| setting | default | what it does |', '| --- | --- | --- |', ...rows, ''].join('\n');
}
