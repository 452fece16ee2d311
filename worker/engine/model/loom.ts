import { z } from 'zod';
import { Code, Name, Note, count, mm, partMm } from './code.ts';
import { ColourSystem, Shade, WireColour } from './colour.ts';
import { gatherFaults } from './gathered.ts';
import { LIMITS } from './limits.ts';
import { CableType } from './part.ts';
import { Settings } from './settings.ts';
import { Size } from './size.ts';
import { withScope, withShort } from './short/form.ts';
import { endForm, functionForm, fuseForm, lengthForm, mateForm, partUseForm } from './short/loomForms.ts';
import { loomScope, wireScope } from './short/scopes.ts';
import { loomReferences } from './loomReferences.ts';
import { inOneForm } from './optionSets.ts';
import { soundLoom } from './soundness.ts';
import { Supply } from './supply.ts';

const supply = Supply.default('buy');
const options = z
  .array(Name)
  .max(LIMITS.options)
  .optional()
  .meta({ description: 'It is in the loom only if all of these options of the loom are chosen.' });

/** A way along branches. */
const via = z
  .array(Code)
  .max(LIMITS.viaBranches)
  .optional()
  .meta({ example: ['B1', 'B2'] });

/** A part used at a place. */
const PartUse = withShort(
  z.strictObject({ part: Code, supply }).meta({ id: 'PartUse', example: { part: 'ring-6-15' } }),
  partUseForm,
);

export const PointKind = z
  .enum(['connector', 'device', 'stud', 'joiner', 'joint', 'flyingLead', 'breakout'])
  .meta({ id: 'PointKind' });

const Fuse = withShort(
  z.strictObject({
    ratingAmps: z.number().positive().max(5000),
    basis: z.enum(['continuous', 'blow']),
  }),
  fuseForm,
);
export type Fuse = z.infer<typeof Fuse>;

const Feed = z
  .strictObject({
    ways: z.array(Name).min(1).max(LIMITS.waysOfAPoint).optional().meta({
      description: 'The ways of the point at which current comes in. Left out: all of them.',
    }),
    fuse: Fuse.optional().meta({
      description: 'The fuse before it, outside this loom. Left out: there is no such fuse.',
    }),
  })
  .meta({
    id: 'Feed',
    description: 'Current comes into the loom here, from the battery, the dynamo or the rest of the vehicle.',
  });

const Mate = withShort(
  z.strictObject({ loom: Code.optional(), point: Code }).meta({
    description:
      'The other half that this one is plugged into, in this loom or another. Their ways are joined one to one. State it at one half or at both.',
  }),
  mateForm,
);

const Point = z
  .strictObject({
    id: Code,
    kind: PointKind,
    label: Name.optional(),
    part: Code.optional(),
    supply: Supply.optional().meta({
      description:
        'Where the part comes from. Left out: a device that is not a fuse comes as the setting deviceSupply says; everything else is bought.',
    }),
    suppliedByLoom: Code.optional().meta({
      description:
        'If two looms meet at this part: the loom that supplies it. The part is bought for that loom only.',
    }),
    ways: count(1, LIMITS.waysOfAPoint).optional(),
    pins: z.array(Name).max(LIMITS.waysOfAPoint).optional(),
    studMm: partMm.optional().meta({
      description:
        'Diameter of the stud over its thread, mm; for a device, of each of its studs. 6.35 is ¼ inch, 4.7 is 2 BA.',
    }),
    matedTo: Mate.optional(),
    feed: Feed.optional(),
    options,
  })
  .meta({
    id: 'Point',
    example: { id: 'P1', kind: 'connector' },
    description: 'Where the loom ends or divides.',
  });

const End = withShort(
  z
    .strictObject({
      point: Code,
      way: Name.optional(),
      join: z.enum(['crimp', 'solder', 'joint', 'bare']).optional().meta({
        description:
          'How the wire is joined here. Left out: as its terminal is joined; without a terminal, by the kind of point (a joint at a joint; crimped at a connector, stud or joiner; otherwise bare).',
      }),
      terminal: PartUse.optional(),
      seal: PartUse.optional(),
      cover: PartUse.optional(),
      label: PartUse.optional(),
      sharesTerminal: Code.optional().meta({
        description:
          'Ends at one point with the same word here share one terminal. State the terminal at one of them or at all.',
      }),
      stripMm: mm(200).optional(),
      tailMm: mm(2000).optional(),
      terminateInVehicle: z
        .boolean()
        .optional()
        .meta({ description: 'Finished in the vehicle, after threading.' }),
    })
    .meta({
      id: 'End',
      example: { point: 'P1', terminal: { part: 'ring-6-15' } },
      description: 'What a wire does at a point.',
    }),
  endForm,
);
export type End = z.infer<typeof End>;

/** How an end of a normalised loom is joined. */
export function joinOf({ join }: End): NonNullable<End['join']> {
  if (join === undefined) throw new Error('the end was not completed yet');
  return join;
}

/** The two ends of a wire, by the names of their fields. */
export const SIDES = ['from', 'to'] as const;
export type Side = (typeof SIDES)[number];

const Length = withShort(
  z
    .strictObject({
      mm: mm(LIMITS.wireMm, 1),
      basis: z.enum(['tipToTip', 'sheathToSheath', 'route']).meta({
        description:
          'A length tip to tip already includes tails and strips. A length sheath to sheath or along the route does not.',
      }),
      measured: z.enum(['oldLoom', 'stringOnVehicle', 'book']).optional(),
      plusMinusMm: mm(LIMITS.wireMm).optional(),
    })
    .meta({ id: 'WireLength', example: { mm: 620, basis: 'route' } }),
  lengthForm,
);

const Branch = z
  .strictObject({ id: Code, from: Code, to: Code, lengthMm: mm(LIMITS.wireMm), options })
  .meta({ id: 'Branch', example: { id: 'B1', from: 'P1', to: 'P2', lengthMm: 620 } });

const FunctionalLength = withShort(
  z
    .union([
      z.strictObject({ targetOhm: z.number().positive() }),
      z.strictObject({ fixedMm: mm(LIMITS.wireMm, 1) }),
    ])
    .meta({
      description:
        'A length that is set by its function: a resistor wire of a certain resistance, or a fusible link of a fixed length.',
    }),
  functionForm,
);

const Wire = withScope(
  z
    .strictObject({
      id: Code,
      cableType: CableType,
      size: Size,
      colour: WireColour,
      colourRule: z.enum(['exact', 'nextSizeUp', 'plainBaseWithTracerSleeve', 'ask']).default('exact'),
      supply,
      from: End,
      to: End,
      length: Length.optional(),
      via,
      amps: z.number().nonnegative().max(5000).optional(),
      fuse: Fuse.optional(),
      function: FunctionalLength.optional(),
      circuit: Name.optional(),
      inCable: Code.optional(),
      twistedWith: Code.optional(),
      options,
      note: Note.optional(),
    })
    .meta({
      id: 'Wire',
      example: {
        id: 'W3',
        cableType: 'pvc-vehicle',
        size: { system: 'metricStrands', strands: 14, strandMm: 0.3 },
        colour: { base: 'green', tracer: 'yellow' },
        from: { point: 'P1' },
        to: { point: 'P2' },
        length: { mm: 620, basis: 'route' },
      },
      description: 'One conductor, end to end.',
    }),
  wireScope,
);
export type Wire = z.infer<typeof Wire>;

const Cable = z
  .strictObject({
    id: Code,
    part: Code.optional(),
    supply,
    length: Length.optional(),
    via,
    options,
  })
  .meta({
    id: 'Cable',
    description: 'Several cores in one sheath, of one length. Its wires name it in inCable.',
  });

const Covering = z
  .strictObject({
    id: Code,
    kind: z.enum(['braided', 'pvc', 'heatShrink', 'tape', 'conduit', 'other']),
    part: Code.optional().meta({
      description: 'The code of the part. Left out: a part that fits is chosen from the catalogue.',
    }),
    shade: Shade.optional().meta({
      description: 'If no part is named: only sleeves of this shade are chosen.',
    }),
    supply,
    over: z
      .array(Code)
      .min(1)
      .max(LIMITS.viaBranches)
      .optional()
      .meta({ description: 'Branches covered, in order.' }),
    lengthMm: mm(LIMITS.wireMm, 1).optional().meta({
      description: 'Finished length, if no branches are drawn. For tape: the length of the tape itself.',
    }),
    outer: Code.optional().meta({ description: 'The id of the covering that lies over this one.' }),
    overlapStartMm: mm(LIMITS.wireMm).default(0),
    overlapEndMm: mm(LIMITS.wireMm).default(0),
    options,
  })
  .meta({ id: 'Covering' });

const Fitting = z
  .strictObject({
    part: Code,
    supply,
    branch: Code.optional(),
    atMm: mm(LIMITS.wireMm).optional(),
    threadedBefore: Code.optional(),
    quantity: count(1).default(1),
    options,
  })
  .meta({ id: 'LoomFitting' });

const LoomPart = z
  .strictObject({ part: Code, quantity: count(1), supply, note: Note.optional(), options })
  .meta({ id: 'LoomPart', example: { part: 'ring-6-15', quantity: 4 } });

/** What is as it was when the vehicle was made: the finding is known and accepted. */
const Acceptance = z
  .strictObject({
    finding: z.string().regex(/^[a-z][a-z0-9-]{0,63}$/, 'the code of a fault, as the checks show it'),
    subject: Name.meta({
      description: 'The subject of the fault, as the checks show it.',
      example: 'wire:W3',
    }),
    note: Note.min(1).meta({ description: 'Why you accept it.' }),
  })
  .meta({ id: 'Acceptance', description: 'Accepts one fault of this loom, with the reason.' });

const many = <S extends z.ZodType>(item: S, max: number) => z.array(item).max(max).default([]);

/** The content of a revision: what never changes once stored. */
export const loomContent = {
  name: Name,
  vehicle: Name.optional(),
  note: Note.optional(),
  systemVoltage: z.number().positive().max(100).default(12),
  earth: z.enum(['negative', 'positive', 'insulatedReturn']).default('negative'),
  look: z.enum(['original', 'period', 'modern']).default('original'),
  colourSystem: ColourSystem.default('words'),
  options: z
    .array(Name.overwrite(inOneForm))
    .max(LIMITS.options)
    .optional()
    .meta({
      description:
        'What this loom can be made with, such as overdrive. The request chooses. "RHD | LHD" is a choice: exactly one of the two.',
      example: ['RHD | LHD', 'overdrive'],
    }),
  settings: Settings.optional(),
  asOriginal: many(Acceptance, LIMITS.acceptances),
  points: many(Point, LIMITS.points),
  branches: many(Branch, LIMITS.branches),
  wires: many(Wire, LIMITS.wires),
  cables: many(Cable, LIMITS.cables),
  coverings: many(Covering, LIMITS.coverings),
  fittings: many(Fitting, LIMITS.fittings),
  parts: many(LoomPart, LIMITS.loomParts),
} as const;

/** Ties what a loom names to what it holds: every fault with its path, as far as a loom with other faults can be read. */
export function checkReferences(loom: unknown, issues: z.core.$RefinementCtx): void {
  const sound = soundLoom(loom);
  if (!sound) return;
  gatherFaults(issues, (fault) => loomReferences(sound.value, sound.unsure, fault));
}

/** Checks that run whatever faults of shape there are. */
export const beside = { when: () => true };

export const LoomRevision = withScope(
  z
    .strictObject(loomContent)
    .superRefine(checkReferences, beside)
    .meta({ id: 'LoomRevision', description: 'The content of one revision of a loom.' }),
  loomScope,
);
export type LoomRevision = z.infer<typeof LoomRevision>;

export const Loom = withScope(
  z
    .strictObject({ code: Code, ...loomContent })
    .superRefine(checkReferences, beside)
    .meta({ id: 'Loom', description: 'A loom with the content of one revision.' }),
  loomScope,
);
export type Loom = z.infer<typeof Loom>;
