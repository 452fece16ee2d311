import { z } from 'zod';
import { count, mm, percent } from './code.ts';
import { LIMITS } from './limits.ts';
import { Condition } from './offer.ts';
import { EndRule, endRuleText, isEndRule } from './endRules.ts';
import { CableType } from './part.ts';
import { isSpareJoinRule, SpareJoinRule, spareJoinText, SpareWireRule, spareWireText } from './spareRules.ts';
import { Supply } from './supply.ts';

const JoinRule = z
  .strictObject({
    join: z.enum(['crimp', 'solder', 'joint', 'bare']),
    overMm2: z.number().min(0).max(500).optional(),
    stripMm: mm(200).optional(),
    tailMm: mm(2000).optional(),
    redoMm: mm(2000).optional(),
  })
  .meta({
    id: 'JoinRule',
    description:
      'Strip, tail and re-do of ends joined in this way, of wires above a size where one is stated.',
  });
export type JoinRule = z.infer<typeof JoinRule>;

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
  byJoin: z.array(JoinRule).max(LIMITS.joinRules).meta({
    description:
      'Strip, tail and re-do by kind of join and size, before those of all ends; the first that applies.',
  }),
  trimOnBoardMm: mm(2000).meta({ description: 'Extra of each wire that is trimmed on the board, mm.' }),
  twistPitchMm: mm(1000, 1).meta({ description: 'Length of one turn of a twisted pair, mm.' }),
  cuttingStepMm: mm(1000, 1).meta({ description: 'Cut lengths are rounded up to a multiple of this, mm.' }),
  sparePercent: percent.meta({
    description: 'Spare terminals, their covers, and seals, percent of those used.',
  }),
  spareMinimum: count(0, 1000).meta({
    description: 'Spare terminals, their covers, and seals of each type at the least.',
  }),
  crimpFailurePercent: percent.max(99).meta({ description: 'Joins that fail and are done again, percent.' }),
  spareConfidencePercent: percent.max(99.9999).meta({
    description:
      'How surely terminals, their covers and seals are enough with the joins that fail, percent; 0: not asked.',
  }),
  spareByJoin: z.array(SpareJoinRule).max(LIMITS.joinRules).meta({
    description:
      'Spare percentage, minimum and failure rate by kind of join, before the settings for all joins; the first that applies.',
  }),
  setUpCrimps: count(0, 100).meta({
    description: 'Terminals crimped for trial, for each terminal and wire size.',
  }),
  spareWirePercent: percent.meta({
    description:
      'Spare wire of each cable type, size and colour, percent of its metres, but within its least and its most; 0: none.',
  }),
  spareWireMinimumMm: mm(LIMITS.wireMm).meta({
    description: 'Spare wire of each cable type, size and colour at the least, mm.',
  }),
  spareWireMostMm: mm(LIMITS.wireMm).meta({
    description: 'Spare wire of each cable type, size and colour at the most, mm.',
  }),
  spareWirePieces: count(0, 100).meta({
    description:
      'Spare wire of each cable type, size and colour at the least, also beyond that most: so many times its longest piece.',
  }),
  spareWireUpToMm2: z.number().min(0).max(500).meta({
    description: 'Largest size of which spare wire is bought, mm².',
  }),
  spareWireBy: z.array(SpareWireRule).max(LIMITS.joinRules).meta({
    description:
      'Spare wire by cable type and size, before the settings for all wire; the first that applies.',
  }),
  spareCoveringPercent: percent.meta({
    description: 'Spare sleeve, braid, heat-shrink and tape, percent of each covering; 0: none.',
  }),
  spareCoveringMinimumMm: mm(LIMITS.wireMm).meta({
    description:
      'Spare sleeve, braid, heat-shrink and tape for each covering at the least, mm, but no more than the covering has.',
  }),
  offcutMinimumMm: mm(LIMITS.wireMm).meta({
    description:
      'Offcuts at least so long are worth keeping: lengths are cut so that one long one is left, mm.',
  }),
  resistorStripWithin: z.boolean().meta({
    description:
      'The stripped ends of a resistor wire lie within the length that its ohms ask; else they are added to it.',
  }),
  tracerSleeveMm: mm(1000, 1).meta({
    description:
      'Sleeve in the tracer’s colour at each end of a plain wire that stands for one with a tracer, mm.',
  }),
  sleeveClearancePercent: percent.max(200).meta({
    description: 'How much wider than the bundle the bore of a sleeve is at the least, percent.',
  }),
  sleeveClearancePerMetrePercent: percent.max(200).meta({
    description:
      'How much wider still the bore of a sleeve is for every metre that is threaded through, percent.',
  }),
  sleeveLoosePercent: percent.meta({
    description: 'A sleeve wider than the bundle by more than this is called loose, percent.',
  }),
  braidExtraPercent: percent.max(300).meta({
    description:
      'Braid cut longer at the least, as it shortens when it opens, where the part states neither a table nor an angle, percent.',
  }),
  braidTrimMm: mm(200).meta({ description: 'Trim for the hot cut at each end of a braid, mm.' }),
  tapeOverlapPercent: percent.max(95).meta({
    description: 'How much of its width each turn of tape lies over the one before, percent.',
  }),
  tapeExtraTurns: z.number().min(0).max(100).meta({
    description: 'Turns of tape in one place at each start, end and breakout.',
  }),
  workingTemperatureC: z.number().min(-40).max(250).meta({
    description: 'Temperature at which wires are reckoned for volts lost, °C.',
  }),
  voltageDropPercent: percent.min(0.1).max(100).meta({
    description: 'Volts lost in a circuit at the most, percent of the system’s.',
  }),
  jointMillivolts: z.number().min(0).max(5000).meta({
    description: 'Volts lost in each terminal or joint of a circuit, mV.',
  }),
  returnMillivolts: z.number().min(0).max(5000).meta({
    description: 'Volts lost on the way back through the body, mV.',
  }),
  endDefaults: z.array(EndRule).max(LIMITS.joinRules).meta({
    description:
      'Terminal, seal and cover of ends that state none, by kind of point, part there and wire size; for each the first rule that applies.',
  }),
  usualCableType: CableType.meta({
    description: 'The cable type of wires that state none, as they are entered.',
  }),
  deviceSupply: Supply.meta({
    description:
      'Where devices come from (all but fuses) at points that do not say: buy, reuse, stock, ownerSupplies.',
  }),
  stopsBlock: z.boolean().meta({
    description: 'Findings of severity stop keep the quote from being made.',
  }),
  oneColourOneSupplier: z
    .boolean()
    .meta({ description: 'All wire of one cable type, size and colour comes from one supplier.' }),
  conditionsAccepted: z
    .array(Condition)
    .min(1)
    .max(4)
    .meta({ description: 'Conditions in which parts are bought: new, oldStock, used, reproduction.' }),
  standInsAccepted: z
    .array(z.enum(['confirmed', 'proposed']))
    .max(2)
    .meta({
      description:
        'Which parts and families may be bought in place of others: those confirmed to stand in, those proposed.',
    }),
  rateAgeDays: z
    .int()
    .min(1)
    .max(36_500)
    .meta({ description: 'Rates of exchange older than this are flagged, days.' }),
  priceAgeDays: z
    .int()
    .min(1)
    .max(36_500)
    .meta({ description: 'Prices seen longer ago than this are flagged, days.' }),
  thresholdMarginPercent: percent.meta({
    description:
      'Free postage, a minimum order or a price break that is met by less than this is told on the order list, percent of it; 0: none.',
  }),
  solverSeconds: z
    .number()
    .min(0.1)
    .max(3600)
    .meta({ description: 'Longest time to look for the cheapest mix, seconds.' }),
  besideSeconds: z.number().min(0).max(3600).meta({
    description:
      'Longest time to work what lies beside the cheapest mix, once that is found, seconds; 0: none of it.',
  }),
} as const;

export type SettingName = keyof typeof fields;
export type SettingValues = { [K in SettingName]: z.infer<(typeof fields)[K]> };

export const DEFAULT_SETTINGS: SettingValues = {
  slackPercent: 3,
  tailMm: 0,
  stripMm: 6,
  redoMm: 12,
  // A soldered or crimped splice overlaps; heavy terminals have longer barrels: common practice, no source.
  byJoin: [
    { join: 'joint', stripMm: 15 },
    { join: 'crimp', overMm2: 6, stripMm: 12, redoMm: 25 },
  ],
  trimOnBoardMm: 0,
  twistPitchMm: 30,
  cuttingStepMm: 1,
  sparePercent: 5,
  spareMinimum: 1,
  crimpFailurePercent: 2,
  spareConfidencePercent: 95,
  // A soldered terminal is spoilt more often than a crimped one: common practice, no source.
  spareByJoin: [{ join: 'solder', failurePercent: 5 }],
  setUpCrimps: 0,
  // Spares of wire and coverings: common practice, no source.
  spareWirePercent: 10,
  spareWireMinimumMm: 300,
  spareWireMostMm: 1000,
  spareWirePieces: 0,
  spareWireUpToMm2: 6,
  spareWireBy: [],
  spareCoveringPercent: 5,
  spareCoveringMinimumMm: 50,
  // From what length an offcut is kept: common practice, no source.
  offcutMinimumMm: 300,
  resistorStripWithin: false,
  tracerSleeveMm: 25,
  sleeveClearancePercent: 10,
  sleeveClearancePerMetrePercent: 5,
  sleeveLoosePercent: 100,
  braidExtraPercent: 10,
  braidTrimMm: 5,
  tapeOverlapPercent: 50,
  tapeExtraTurns: 3,
  workingTemperatureC: 60,
  voltageDropPercent: 10,
  jointMillivolts: 20,
  returnMillivolts: 50,
  endDefaults: [],
  usualCableType: 'pvc-vehicle',
  deviceSupply: 'reuse',
  stopsBlock: false,
  oneColourOneSupplier: true,
  conditionsAccepted: ['new', 'oldStock', 'reproduction'],
  standInsAccepted: ['confirmed'],
  rateAgeDays: 30,
  priceAgeDays: 180,
  thresholdMarginPercent: 5,
  solverSeconds: 60,
  besideSeconds: 10,
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
      value: z.union([
        z.number(),
        z.boolean(),
        z.string(),
        z.array(z.string()),
        z.array(JoinRule),
        z.array(SpareJoinRule),
        z.array(SpareWireRule),
        z.array(EndRule),
      ]),
      origin: Origin,
    }),
  )
  .meta({ id: 'EffectiveSettings', description: 'Each setting as it was used, and where it came from.' });
export type EffectiveSettings = {
  [K in SettingName]: { value: SettingValues[K]; origin: Origin };
};

/** A setting's value as it is printed. */
export function settingText(value: z.infer<typeof EffectiveSettings>[string]['value']): string {
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(ruleText).join(', ');
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : `${value}`;
}

function ruleText(item: string | JoinRule | SpareJoinRule | SpareWireRule | EndRule): string {
  if (typeof item === 'string') return item;
  if (isEndRule(item)) return endRuleText(item);
  if (!('join' in item)) return spareWireText(item);
  return isSpareJoinRule(item) ? spareJoinText(item) : joinRuleText(item);
}

/** "joint: strip 15", "crimp over 6 mm²: strip 12, re-do 25" */
function joinRuleText({ join, overMm2, stripMm, tailMm, redoMm }: JoinRule): string {
  const values = Object.entries({ strip: stripMm, tail: tailMm, 're-do': redoMm })
    .filter(([, value]) => value !== undefined)
    .map(([word, value]) => `${word} ${value}`);
  return `${join}${overMm2 === undefined ? '' : ` over ${overMm2} mm²`}: ${values.join(', ')}`;
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
