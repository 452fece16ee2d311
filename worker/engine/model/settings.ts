import { z } from 'zod';
import { count, mm, percent } from './code.ts';
import { LIMITS } from './limits.ts';
import { Condition } from './offer.ts';
import { EndRule, endRuleText, isEndRule } from './endRules.ts';
import { isLabourRule, LabourRule, labourRuleText } from './labour.ts';
import { CableType } from './part.ts';
import { withShort } from './short/form.ts';
import { labourForm } from './short/labourForm.ts';
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
      'Strip, tail and remaking allowance of ends joined in this way. With overMm2: only for wires above this size.',
  });
export type JoinRule = z.infer<typeof JoinRule>;

/**
 * The settings of the arithmetic: one object, each value with a default. A club, a loom and a quote may each set any of
 * them; the nearest to the quote wins, and the result says where each value came from.
 */
const fields = {
  slackPercent: percent.meta({ description: 'Slack added to every wire length, percent.' }),
  tailMm: mm(2000).meta({
    description: 'Tail left at each end of a wire measured along its route or sheath, mm.',
  }),
  stripMm: mm(200).meta({ description: 'Insulation stripped at each end that states no strip length, mm.' }),
  redoMm: mm(2000).meta({
    description: 'Extra wire at each end for remaking it, mm: cutting the end off and doing it again.',
  }),
  byJoin: z.array(JoinRule).max(LIMITS.joinRules).meta({
    description:
      'Strip, tail and remaking allowance by kind of join and wire size. The first rule that applies is used instead of the settings for all ends.',
  }),
  trimOnBoardMm: mm(2000).meta({
    description: 'Extra length of each wire that is trimmed off on the board, mm.',
  }),
  twistPitchMm: mm(1000, 1).meta({ description: 'Length of one turn of a twisted pair, mm.' }),
  cuttingStepMm: mm(1000, 1).meta({ description: 'Cut lengths are rounded up to a multiple of this, mm.' }),
  sparePercent: percent.meta({
    description: 'Spare terminals, their covers, and seals: percent of those used.',
  }),
  spareMinimum: count(0, 1000).meta({
    description: 'Spare terminals, their covers, and seals: at least this number of each type.',
  }),
  crimpFailurePercent: percent
    .max(99)
    .meta({ description: 'How many joins fail and are made again, percent.' }),
  spareConfidencePercent: percent.max(99.9999).meta({
    description:
      'How sure it is that terminals, their covers and seals are enough although some joins fail, percent; 0: failures are not counted.',
  }),
  spareByJoin: z.array(SpareJoinRule).max(LIMITS.joinRules).meta({
    description:
      'Spare percentage, smallest number and failure rate by kind of join. The first rule that applies is used instead of the settings for all joins.',
  }),
  setUpCrimps: count(0, 100).meta({
    description: 'Terminals for trial crimps, for each terminal and wire size.',
  }),
  spareWirePercent: percent.meta({
    description:
      'Spare wire of each cable type, size and colour, percent of its metres, within the limits of spareWireMinimumMm and spareWireMostMm; 0: none.',
  }),
  spareWireMinimumMm: mm(LIMITS.wireMm).meta({
    description: 'Spare wire of each cable type, size and colour: at least this length, mm.',
  }),
  spareWireMostMm: mm(LIMITS.wireMm).meta({
    description: 'Spare wire of each cable type, size and colour: at most this length, mm.',
  }),
  spareWirePieces: count(0, 100).meta({
    description:
      'Spare wire of each cable type, size and colour: at least this number of times its longest piece, even if that is more than spareWireMostMm.',
  }),
  spareWireUpToMm2: z.number().min(0).max(500).meta({
    description: 'Largest wire size for which spare wire is bought, mm².',
  }),
  spareWireBy: z.array(SpareWireRule).max(LIMITS.joinRules).meta({
    description:
      'Spare wire by cable type and size. The first rule that applies is used instead of the settings for all wire.',
  }),
  spareCoveringPercent: percent.meta({
    description: 'Spare sleeve, braid, heat-shrink and tape: percent of each covering; 0: none.',
  }),
  spareCoveringMinimumMm: mm(LIMITS.wireMm).meta({
    description:
      'Spare sleeve, braid, heat-shrink and tape: at least this length for each covering, mm, but at most the length of the covering.',
  }),
  offcutMinimumMm: mm(LIMITS.wireMm).meta({
    description:
      'Offcuts of at least this length are worth keeping: lengths are cut so that one long offcut is left, mm.',
  }),
  resistorStripWithin: z.boolean().meta({
    description:
      'true: the length that gives a resistor wire its ohms includes its stripped ends. false: the stripped ends are added to that length.',
  }),
  tracerSleeveMm: mm(1000, 1).meta({
    description:
      'Length of the sleeve in the tracer’s colour at each end of a plain wire that is used instead of a wire with a tracer, mm.',
  }),
  sleeveClearancePercent: percent.max(200).meta({
    description: 'The bore of a sleeve is at least this much wider than the bundle, percent.',
  }),
  sleeveClearancePerMetrePercent: percent.max(200).meta({
    description:
      'How much wider the bore of a sleeve is for every metre that is threaded through, in addition, percent.',
  }),
  sleeveLoosePercent: percent.meta({
    description: 'A sleeve that is wider than the bundle by more than this is loose, percent.',
  }),
  braidExtraPercent: percent.max(300).meta({
    description:
      'Extra length of braid, because it shortens when it is opened: at least this, if the part states neither a table nor an angle, percent.',
  }),
  braidTrimMm: mm(200).meta({ description: 'Trim for the hot cut at each end of a braid, mm.' }),
  tapeOverlapPercent: percent.max(95).meta({
    description: 'How much each turn of tape overlaps the turn before, percent of its width.',
  }),
  tapeExtraTurns: z.number().min(0).max(100).meta({
    description: 'Turns of tape in one place at each start, end and breakout.',
  }),
  workingTemperatureC: z.number().min(-40).max(250).meta({
    description: 'Temperature of the wires for calculating volts lost, °C.',
  }),
  voltageDropPercent: percent.min(0.1).max(100).meta({
    description: 'Volts lost in a circuit: at most this, percent of the system voltage.',
  }),
  jointMillivolts: z.number().min(0).max(5000).meta({
    description: 'Volts lost in each terminal or joint of a circuit, mV.',
  }),
  returnMillivolts: z.number().min(0).max(5000).meta({
    description: 'Volts lost on the way back through the body, mV.',
  }),
  endDefaults: z.array(EndRule).max(LIMITS.joinRules).meta({
    description:
      'Terminal, seal and cover of ends that state none, by kind of point, part there and wire size. The first rule that applies is used for each.',
  }),
  usualCableType: CableType.meta({
    description: 'The cable type of wires that are entered without one.',
  }),
  deviceSupply: Supply.meta({
    description:
      'Where devices (except fuses) come from, if their point does not say: buy, reuse, stock, ownerSupplies.',
  }),
  stopsBlock: z.boolean().meta({
    description: 'A fault of severity stop prevents the quote.',
  }),
  oneColourOneSupplier: z
    .boolean()
    .meta({ description: 'All wire of one cable type, size and colour comes from one supplier.' }),
  conditionsAccepted: z
    .array(Condition)
    .min(1)
    .max(4)
    .meta({ description: 'Which conditions of parts may be bought: new, oldStock, used, reproduction.' }),
  standInsAccepted: z
    .array(z.enum(['confirmed', 'proposed']))
    .max(2)
    .meta({
      description:
        'Which parts and families may be bought instead of others: those confirmed to stand in, those only proposed.',
    }),
  rateAgeDays: z
    .int()
    .min(1)
    .max(36_500)
    .meta({ description: 'Rates of exchange older than this get a warning, days.' }),
  priceAgeDays: z
    .int()
    .min(1)
    .max(36_500)
    .meta({ description: 'Prices seen longer ago than this get a warning, days.' }),
  thresholdMarginPercent: percent.meta({
    description:
      'The order list says if free postage, a minimum order or a price break is met by less than this, percent of the threshold; 0: never.',
  }),
  labourMinutes: withShort(
    z.array(LabourRule).max(LIMITS.joinRules).meta({
      description:
        'Minutes of your own for operations of rebuilding a loom. The first rule for an operation is used instead of its default. The defaults are from memory, no source: put your own.',
    }),
    labourForm,
  ),
  firstLoomPercent: percent.min(100).meta({
    description:
      'Minutes for the first of several looms that are made alike, percent of the minutes for each of the others. 100: the first takes no longer. 150: half as long again.',
  }),
  solverSeconds: z
    .number()
    .min(0.1)
    .max(3600)
    .meta({ description: 'Longest time to search for the cheapest mix, seconds.' }),
  besideSeconds: z.number().min(0).max(3600).meta({
    description:
      'Longest time to work out close alternatives, after the cheapest mix is found, seconds; 0: no close alternatives.',
  }),
  buildOrBuySeconds: z.number().min(0.1).max(3600).meta({
    description:
      'Longest time to compare building the looms with buying them made, if the request asks for it, seconds.',
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
  labourMinutes: [],
  firstLoomPercent: 100,
  solverSeconds: 60,
  besideSeconds: 10,
  buildOrBuySeconds: 60,
};

export const SETTING_NAMES = Object.keys(fields).sort() as SettingName[];

export const Settings = z.strictObject(fields).partial().meta({
  id: 'Settings',
  description:
    'Settings. Those of a quote override those of a loom, and those of a loom override those of the club.',
});
export type Settings = z.infer<typeof Settings>;

/** The settings that say how long the engine works, each in seconds. */
export const TIME_SETTINGS = ['solverSeconds', 'besideSeconds', 'buildOrBuySeconds'] as const;
export type TimeSetting = (typeof TIME_SETTINGS)[number];

/** secondsAtMost, where the club does not set it. */
export const SECONDS_AT_MOST = 600;

const secondsAtMost = z
  .number()
  .min(0.1)
  .max(3600)
  .meta({
    description: `A quote may set solverSeconds, besideSeconds and buildOrBuySeconds to at most this, each, or to what the club sets it to, if that is more. Left out: ${SECONDS_AT_MOST}.`,
  });

export const ClubSettings = z
  .strictObject({ ...fields, secondsAtMost })
  .partial()
  .meta({
    id: 'ClubSettings',
    description:
      'Settings of the club, and what its quotes may set. Those of a loom and of a quote override them.',
  });
export type ClubSettings = z.infer<typeof ClubSettings>;

/** How many seconds a quote of a club may set a setting of time to. */
export function mostSeconds(name: TimeSetting, club: ClubSettings = {}): number {
  return Math.max(club.secondsAtMost ?? SECONDS_AT_MOST, club[name] ?? DEFAULT_SETTINGS[name]);
}

/** What a setting is for, in words, for tables. */
export function settingDescription(name: SettingName | 'secondsAtMost'): string {
  return (name === 'secondsAtMost' ? secondsAtMost : fields[name]).meta()?.description ?? '';
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
        z.array(LabourRule),
      ]),
      origin: Origin,
    }),
  )
  .meta({ id: 'EffectiveSettings', description: 'Each setting that was used, and where it came from.' });
export type EffectiveSettings = {
  [K in SettingName]: { value: SettingValues[K]; origin: Origin };
};

/** A setting's value as it is printed. */
export function settingText(value: z.infer<typeof EffectiveSettings>[string]['value']): string {
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(ruleText).join(', ');
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : `${value}`;
}

function ruleText(item: string | JoinRule | SpareJoinRule | SpareWireRule | EndRule | LabourRule): string {
  if (typeof item === 'string') return item;
  if (isLabourRule(item)) return labourRuleText(item);
  if (isEndRule(item)) return endRuleText(item);
  if (!('join' in item)) return spareWireText(item);
  return isSpareJoinRule(item) ? spareJoinText(item) : joinRuleText(item);
}

/** "joint: strip 15", "crimp over 6 mm²: strip 12, remaking 25" */
function joinRuleText({ join, overMm2, stripMm, tailMm, redoMm }: JoinRule): string {
  const values = Object.entries({ strip: stripMm, tail: tailMm, remaking: redoMm })
    .filter(([, value]) => value !== undefined)
    .map(([word, value]) => `${word} ${value}`);
  return `${join}${overMm2 === undefined ? '' : ` over ${overMm2} mm²`}: ${values.join(', ')}`;
}

/** Lays quote over loom over club over defaults; of time, no more than the club lets its quotes have. */
export function resolveSettings(layers: {
  club?: ClubSettings | undefined;
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
  const effective = Object.fromEntries(SETTING_NAMES.map((name) => [name, pick(name)])) as EffectiveSettings;
  for (const name of TIME_SETTINGS) {
    const most = mostSeconds(name, layers.club);
    if (effective[name].value > most) effective[name] = { value: most, origin: 'club' };
  }
  return effective;
}
