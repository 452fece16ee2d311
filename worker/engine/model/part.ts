import { z } from 'zod';
import { canonicalJson } from './canonical.ts';
import { byCode, Code, Name, Note, count, partMm, percent } from './code.ts';
import { Colour, Shade } from './colour.ts';
import { LIMITS } from './limits.ts';
import { withShort } from './short/form.ts';
import { numbersForm } from './short/numbersForm.ts';
import { Size } from './size.ts';

export const CableType = Code.meta({
  id: 'CableType',
  description:
    'The make-up of a wire, in your words or in the letters of a standard: thin-wall, pvc, FLRY-B, GPT. Wires with the same words here are the same make-up.',
  example: 'thin-wall',
});

/** A part, or the family named, for which this part (or its family) may stand in. One-way. */
const StandsInFor = z
  .union([
    z.strictObject({ part: Code, confirmedBy: Name.optional(), note: Note.optional() }),
    z.strictObject({ family: Code, confirmedBy: Name.optional(), note: Note.optional() }),
  ])
  .meta({
    id: 'StandsInFor',
    description:
      'What this part may be bought instead of. Parts that only work together stand in as a whole family.',
  });

/** The numbers under which others have the part: makers of vehicles, other makers, other clubs. */
const OthersNumbers = withShort(
  z
    .array(
      z
        .strictObject({
          whose: Name.meta({ description: 'Whose number it is.', example: 'Wrenfield' }),
          number: Name.meta({ description: 'The number, as they write it.', example: '20 41 77-33' }),
        })
        .meta({ id: 'OthersNumber', description: 'A number under which somebody else has the part.' }),
    )
    .max(LIMITS.numbersOfAPart)
    .meta({
      description: 'The numbers under which others have the part. The part can be found and named by them.',
    }),
  numbersForm,
);

const common = {
  code: Code,
  description: Name,
  maker: Name.optional(),
  makerCode: Name.optional(),
  numbers: OthersNumbers.optional(),
  family: Code.optional().meta({ description: 'The family of parts that only work together.' }),
  standsInFor: z.array(StandsInFor).max(LIMITS.alternatives).optional(),
  weightG: z.number().nonnegative().max(1_000_000).optional(),
  note: Note.optional(),
};

/** A loom, by its code, or as it is made with these options; the code alone: without options. */
const ForLoom = z.union([
  Code,
  z
    .strictObject({ loom: Code, options: z.array(Name).max(LIMITS.options) })
    .meta({ id: 'ForLoom', description: 'A loom as it is made with these options.' }),
]);
export type ForLoom = z.infer<typeof ForLoom>;

const part = <K extends string, S extends z.core.$ZodLooseShape>(kind: K, shape: S) =>
  z.strictObject({ kind: z.literal(kind), ...common, ...shape });

const milliohms = z.number().positive().max(100_000);
const grams = z.number().positive().max(100_000);
const areaMm2 = z.number().nonnegative().max(500);
const amps = z.number().positive().max(5_000);

export const Part = z
  .discriminatedUnion('kind', [
    part('wire', {
      cableType: CableType,
      size: Size,
      colour: Colour,
      outsideDiameterMm: partMm.optional(),
      resistanceMilliohmPerM: milliohms.optional(),
      temperatureMaxC: z.number().min(0).max(400).optional(),
      ratedAmps: amps.optional(),
      gramsPerM: grams.optional(),
    }),
    part('cable', {
      cableType: CableType,
      cores: z
        .array(z.strictObject({ size: Size, colour: Colour }))
        .min(1)
        .max(LIMITS.coresOfACable),
      screened: z.boolean().optional(),
      outsideDiameterMm: partMm.optional(),
      gramsPerM: grams.optional(),
    }),
    part('sleeve', {
      sleeveType: z.enum(['braided', 'pvc', 'heatShrink', 'conduit', 'spiral', 'other']),
      shade: Shade.optional(),
      boreMm: partMm
        .optional()
        .meta({ description: 'Bore; for heat-shrink the smallest bore as supplied, mm.' }),
      recoveredBoreMm: partMm
        .optional()
        .meta({ description: 'Heat-shrink: the largest bore after shrinking, mm.' }),
      wallMm: partMm.optional(),
      holdsMinMm: partMm
        .optional()
        .meta({ description: 'The smallest bundle that the sleeve holds, as its maker states, mm.' }),
      holdsMaxMm: partMm.optional(),
      gramsPerM: grams.optional(),
      restDiameterMm: partMm.optional().meta({
        description: 'Braid: its diameter when it is not stretched or opened, at braidAngleDeg, mm.',
      }),
      braidAngleDeg: z.number().gt(0).lt(90).optional().meta({
        description:
          'Braid: the angle of its threads to its length when it is not stretched or opened, degrees.',
      }),
      lengthwiseChangePercent: z.number().min(-90).max(100).optional(),
      shortensTo: z
        .array(z.strictObject({ openedToMm: partMm, per100Mm: partMm }))
        .max(20)
        .optional()
        .meta({ description: 'How long 100 mm of braid is when it is opened to a diameter.' }),
    }),
    part('tape', {
      tapeType: z.enum(['adhesive', 'nonAdhesive', 'cloth', 'other']),
      shade: Shade.optional(),
      widthMm: partMm,
      thicknessMm: partMm.optional(),
      stretchPercent: percent.optional(),
      gramsPerM: grams.optional(),
    }),
    part('terminal', {
      terminalType: z.enum([
        'bullet',
        'blade',
        'ring',
        'spade',
        'pin',
        'ferrule',
        'splice',
        'battery',
        'other',
      ]),
      gender: z.enum(['male', 'female', 'none']).optional(),
      join: z.enum(['crimp', 'solder', 'either']).optional(),
      wireMinMm2: areaMm2.optional(),
      wireMaxMm2: areaMm2.optional(),
      insulationMinMm: partMm.optional(),
      insulationMaxMm: partMm.optional(),
      sizeMm: partMm
        .optional()
        .meta({ description: 'Blade width, bullet or pin diameter, or stud hole of a ring, mm.' }),
      stripMm: z.int().min(0).max(200).optional(),
      tailMm: z.int().min(0).max(2000).optional(),
      redoMm: z.int().min(0).max(2000).optional().meta({
        description:
          'How much wire one end loses when this terminal is cut off and made again (remaking), mm.',
      }),
      ratedAmps: amps.optional(),
    }),
    part('seal', {
      insulationMinMm: partMm.optional(),
      insulationMaxMm: partMm.optional(),
      cavityMm: partMm.optional(),
    }),
    part('housing', {
      ways: count(1, LIMITS.waysOfAPoint),
      housingGender: z.enum(['plug', 'socket', 'none']).optional(),
      contactGender: z.enum(['male', 'female', 'none']).optional(),
      mates: z.array(Code).max(100).optional(),
      sealed: z.boolean().optional(),
    }),
    part('cover', {
      coverType: z.enum(['terminalCover', 'backshell', 'dustCap', 'other']).optional(),
      shade: Shade.optional(),
    }),
    part('boot', { boreMm: partMm.optional() }),
    part('joiner', {
      joinerType: z.enum(['sleeve', 'block', 'splice', 'other']),
      positions: count(1, 100).meta({ description: 'How many bullets or wires it takes.' }),
      sizeMm: partMm.optional(),
    }),
    part('device', {
      deviceType: z.enum([
        'fuseHolder',
        'fuse',
        'relay',
        'flasher',
        'diode',
        'resistor',
        'lamp',
        'switch',
        'ammeter',
        'electronics',
        'other',
      ]),
      pins: z
        .array(Name)
        .max(LIMITS.waysOfAPoint)
        .optional()
        .meta({ description: 'Its terminal markings, as in DIN 72552.' }),
      ratedAmps: amps.optional(),
      madeForEarth: z
        .enum(['negative', 'positive', 'either'])
        .optional()
        .meta({ description: 'The earth polarity for which the device is made.' }),
      fuseBasis: z.enum(['continuous', 'blow']).optional(),
      resistanceOhm: z.number().positive().optional(),
      tolerancePercent: percent
        .optional()
        .meta({ description: 'How much its resistance may be more or less than stated, percent.' }),
    }),
    part('fitting', {
      fittingType: z.enum(['grommet', 'clip', 'label', 'tie', 'other']),
      boreMm: partMm.optional(),
      panelHoleMm: partMm.optional(),
    }),
    part('consumable', {}),
    part('tool', { worksFamilies: z.array(Code).max(100).optional() }),
    part('madeUpLoom', {
      forLooms: z.array(ForLoom).max(100).optional().meta({
        description:
          'The looms instead of which it is bought: all of these at once. A code alone is the loom without options.',
      }),
    }),
  ])
  .meta({ id: 'Part', description: 'A catalogue entry.' });
export type Part = z.infer<typeof Part>;
export type PartKind = Part['kind'];
export type WirePart = Extract<Part, { kind: 'wire' }>;

/** The looms that a made-up loom is for, each with its options as a set. */
export function loomsFor(forLooms: readonly ForLoom[]): { loom: string; options: string[] }[] {
  const all = forLooms.map((one) =>
    typeof one === 'string'
      ? { loom: one, options: [] }
      : { loom: one.loom, options: [...new Set(one.options)].sort(byCode) },
  );
  return [...new Map(all.map((one) => [canonicalJson(one), one])).values()].sort(
    (a, b) => byCode(a.loom, b.loom) || byCode(canonicalJson(a.options), canonicalJson(b.options)),
  );
}

/** Sold and needed by length; every other kind is counted. */
const BY_LENGTH: readonly PartKind[] = ['wire', 'cable', 'sleeve', 'tape'];

export function isByLength(kind: PartKind): boolean {
  return BY_LENGTH.includes(kind);
}
