import type { Job } from '../model/job.ts';
import {
  resolveSettings,
  SETTING_NAMES,
  type EffectiveSettings,
  type SettingValues,
} from '../model/settings.ts';

/** The settings of the quote as a whole: the club's under the request's. */
export function quoteSettings(job: Pick<Job, 'club' | 'request'>): EffectiveSettings {
  return resolveSettings({ club: job.club.settings, quote: job.request.settings });
}

/** The values alone, without where they came from. */
export function valuesOf(effective: EffectiveSettings): SettingValues {
  return Object.fromEntries(SETTING_NAMES.map((name) => [name, effective[name].value])) as SettingValues;
}
