import { z } from 'zod';
import { BenchTests, WireEnd } from './benchTests.ts';
import { Code } from './code.ts';
import { Colour } from './colour.ts';
import { PointKind } from './loom.ts';
import { MadeLoom } from './madeLoom.ts';
import { Size } from './size.ts';
import { Supply } from './supply.ts';

const whole = z.int().min(0);
const way = z.array(Code).optional();
const notBought = Supply.exclude(['buy']).optional().meta({
  description: 'Where it comes from, if it is not bought.',
});

export const BenchEnd = z
  .strictObject({
    point: Code,
    way: z.string().optional(),
    join: z.enum(['crimp', 'solder', 'joint', 'bare']),
    stripMm: whole.meta({ description: 'Insulation to strip, mm.' }),
    tailMm: whole.meta({ description: 'Tail that is left outside the sheath, mm.' }),
    terminal: Code.optional(),
    seal: Code.optional(),
    cover: Code.optional(),
    label: Code.optional().meta({ description: 'The part on which the label is printed.' }),
    sharesWith: z
      .array(WireEnd)
      .optional()
      .meta({ description: 'The other ends in the same terminal, of very many the first.' }),
    inVehicle: z.literal(true).optional().meta({ description: 'true: it is finished in the vehicle.' }),
  })
  .meta({ id: 'BenchEnd', description: 'One end of a wire, with all that is done there.' });
export type BenchEnd = z.infer<typeof BenchEnd>;

export const BenchWire = z
  .strictObject({
    wire: Code,
    circuit: z.string().meta({ description: 'The id of its circuit in `circuits`.' }),
    circuitName: z.string().optional().meta({ description: 'The name of circuit that the wire states.' }),
    cableType: z.string(),
    size: Size,
    colour: Colour,
    cutMm: whole
      .optional()
      .meta({ description: 'Cut length, mm. Absent for a core of a cable, and if it is not known.' }),
    via: way.meta({ description: 'The branches along which it runs, from its first end to its second.' }),
    inCable: Code.optional(),
    twistedWith: Code.optional(),
    functional: z
      .union([z.strictObject({ targetOhm: z.number().positive() }), z.strictObject({ fixedMm: whole })])
      .optional()
      .meta({ description: 'The work that sets its length: cut it to exactly cutMm.' }),
    tracerSleeve: z
      .strictObject({ part: Code, lengthMm: whole })
      .optional()
      .meta({ description: 'The sleeve in the colour of the tracer that marks both ends of a plain wire.' }),
    supply: notBought,
    ends: z.tuple([BenchEnd, BenchEnd]).meta({ description: 'From and to.' }),
    note: z.string().optional(),
  })
  .meta({ id: 'BenchWire' });
export type BenchWire = z.infer<typeof BenchWire>;

const BenchPoint = z
  .strictObject({
    point: Code,
    kind: PointKind,
    label: z.string().optional(),
    part: Code.optional(),
    pins: z
      .array(z.string())
      .optional()
      .meta({ description: 'The names of its ways in order, as the loom or its part states them.' }),
    fromLoom: MadeLoom.optional().meta({ description: 'The other loom that brings this part.' }),
    matedTo: z
      .strictObject({ loom: MadeLoom, point: Code })
      .optional()
      .meta({ description: 'The other half that it is plugged into.' }),
    supply: notBought,
  })
  .meta({ id: 'BenchPoint' });
export type BenchPoint = z.infer<typeof BenchPoint>;

const BenchBranch = z
  .strictObject({ branch: Code, from: Code, to: Code, lengthMm: whole })
  .meta({ id: 'BenchBranch' });
export type BenchBranch = z.infer<typeof BenchBranch>;

const BenchCable = z
  .strictObject({
    cable: Code,
    part: Code.optional(),
    cutMm: whole.optional(),
    via: way.meta({ description: 'The branches along which it runs, in order.' }),
    cores: z.array(Code).meta({ description: 'The wires that are its cores.' }),
    supply: notBought,
  })
  .meta({ id: 'BenchCable' });
export type BenchCable = z.infer<typeof BenchCable>;

const BenchCovering = z
  .strictObject({
    covering: Code,
    kind: z.enum(['braided', 'pvc', 'heatShrink', 'tape', 'conduit', 'other']),
    part: Code.optional().meta({ description: 'As stated, or as chosen to fit.' }),
    branches: way.meta({ description: 'The branches that it covers, in order.' }),
    finishedMm: whole.optional().meta({
      description:
        'Its length on the loom, overlaps included, mm. For tape without branches: the tape itself.',
    }),
    cutMm: whole.optional().meta({ description: 'Cut length, mm.' }),
    beneathMm: z.number().optional().meta({
      description: 'Diameter of the thickest place that it goes over, mm. Absent if it is not known.',
    }),
    outer: Code.optional().meta({ description: 'The covering that lies over this one.' }),
    overlapStartMm: whole.optional(),
    overlapEndMm: whole.optional(),
    supply: notBought,
  })
  .meta({ id: 'BenchCovering' });
export type BenchCovering = z.infer<typeof BenchCovering>;

const BenchFitting = z
  .strictObject({
    part: Code,
    quantity: whole,
    branch: Code.optional(),
    atMm: whole.optional().meta({ description: 'Distance from the first point of the branch, mm.' }),
    threadedBefore: Code.optional().meta({ description: 'What is put on only after this fitting.' }),
    supply: notBought,
  })
  .meta({ id: 'BenchFitting' });
export type BenchFitting = z.infer<typeof BenchFitting>;

export const BenchLoom = z
  .strictObject({
    loom: MadeLoom,
    points: z.array(BenchPoint),
    branches: z.array(BenchBranch),
    wires: z.array(BenchWire),
    cables: z.array(BenchCable),
    coverings: z.array(BenchCovering),
    fittings: z.array(BenchFitting),
    tests: BenchTests,
  })
  .meta({ id: 'BenchLoom', description: 'One loom as it is made at the bench.' });
export type BenchLoom = z.infer<typeof BenchLoom>;

export const Bench = z
  .strictObject({
    looms: z.array(BenchLoom),
    parts: z
      .array(z.strictObject({ part: Code, kind: z.string(), description: z.string() }))
      .meta({ description: 'The parts that the looms name here, in words.' }),
  })
  .meta({
    id: 'Bench',
    description:
      'All that the sheets for the bench need. Parts are those that the looms name; what is bought instead is in `requirements`.',
  });
export type Bench = z.infer<typeof Bench>;
