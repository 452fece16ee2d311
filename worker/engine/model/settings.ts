import { z } from 'zod';
import { count, mm, percent } from './code.ts';
import { Condition } from './offer.ts';

/**
 * The settings of the arithmetic: one object, each value with a default. A club, a loom and a quote may each set any of
 * them; the nearest to the quote wins, and the result says where each value came from.
 */
const fields = {
  slackPercent: percent.meta({ description: 'Slack added to every drawn wire length, percent.' }),
  tailMm: mm(2000).meta({
    description: 'Tail left at each end of a wire measured along its route or sheath, mm.',
  }),
  stripMm: mm(200).meta({ description: 'Insulation stripped at each end where the end states none, mm.' }),
  redoMm: mm(2000).meta({ description: 'Allowance at each end for cutting off and doing it again, mm.' }),
  cuttingStepMm: mm(1000, 1).meta({ description: 'Cut lengths are rounded up to a multiple of this, mm.' }),
  sparePercent: percent.meta({ description: 'Spare terminals and seals, percent of those used.' }),
  spareMinimum: count(0, 1000).meta({ description: 'Spare terminals and seals of each type at the least.' }),
  oneColourOneSupplier: z
    .boolean()
    .meta({ description: 'All wire of one cable type, size and colour comes from one supplier.' }),
  conditionsAccepted: z
    .array(Condition)
    .min(1)
    .max(4)
    .meta({ description: 'Conditions in which parts are bought: new, oldStock, used, reproduction.' }),
  priceAgeDays: z
    .int()
    .min(1)
    .max(36_500)
    .meta({ description: 'Prices seen longer ago than this are flagged, days.' }),
  solverSeconds: z
    .number()
    .min(0.1)
    .max(3600)
    .meta({ description: 'Longest time to look for the cheapest mix, seconds.' }),
} as const;

export type SettingName = keyof typeof fields;
export type SettingValues = { [K in SettingName]: z.infer<(typeof fields)[K]> };

export const DEFAULT_SETTINGS: SettingValues = {
  slackPercent: 3,
  tailMm: 0,
  stripMm: 6,
  redoMm: 12,
  cuttingStepMm: 1,
  sparePercent: 5,
  spareMinimum: 1,
  oneColourOneSupplier: true,
  conditionsAccepted: ['new', 'oldStock', 'reproduction'],
  priceAgeDays: 180,
  solverSeconds: 60,
};

export const SETTING_NAMES = Object.keys(fields).sort() as SettingName[];

export const Settings = z
  .strictObject(fields)
  .partial()
  .meta({ id: 'Settings', description: 'Settings that override those further from the quote.' });
export type Settings = z.infer<typeof Settings>;

/** What a setting is for, in words, for tables. */
export function settingDescription(name: SettingName): string {
  return fields[name].meta()?.description ?? '';
}

export const Origin = z.enum(['default', 'club', 'loom', 'quote']).meta({ id: 'Origin' });
export type Origin = z.infer<typeof Origin>;

/** A value with where it came from. */
export const EffectiveSettings = z
  .record(
    z.string(),
    z.strictObject({
      value: z.union([z.number(), z.boolean(), z.array(z.string())]),
      origin: Origin,
    }),
  )
  .meta({ id: 'EffectiveSettings', description: 'Each setting as it was used, and where it came from.' });
export type EffectiveSettings = {
  [K in SettingName]: { value: SettingValues[K]; origin: Origin };
};

/** A setting's value as it is printed. */
export function settingText(value: number | boolean | string[]): string {
  if (Array.isArray(value)) return value.join(', ');
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : `${value}`;
}

/** Lays quote over loom over club over defaults. */
export function resolveSettings(layers: {
  club?: Settings | undefined;
  loom?: Settings | undefined;
  quote?: Settings | undefined;
}): EffectiveSettings {
  const order: [Origin, Settings | undefined][] = [
    ['quote', layers.quote],
    ['loom', layers.loom],
    ['club', layers.club],
  ];
  const pick = (name: SettingName) => {
    for (const [origin, layer] of order) {
      const value = layer?.[name];
      if (value !== undefined) return { value, origin };
    }
    return { value: DEFAULT_SETTINGS[name], origin: 'default' as const };
  };
  return Object.fromEntries(SETTING_NAMES.map((name) => [name, pick(name)])) as EffectiveSettings;
}
