import { z } from 'zod';
import { Code } from './code.ts';

const whole = z.int().min(0);
const decimal = z.number().min(0);

/** A wire at one of its ends. */
export const WireEnd = z
  .strictObject({ wire: Code, side: z.enum(['from', 'to']) })
  .meta({ id: 'WireEnd', description: 'One end of a wire.' });
export type WireEnd = z.infer<typeof WireEnd>;

/** What a probe of the meter is held to. */
export const BenchProbe = z
  .strictObject({
    point: Code,
    way: z.string().optional(),
    ends: z
      .array(WireEnd)
      .min(1)
      .meta({ description: 'The ends that are joined right there: in one terminal, one way or one joint.' }),
  })
  .meta({ id: 'BenchProbe', description: 'A place of the loom to which a probe of the meter is held.' });
export type BenchProbe = z.infer<typeof BenchProbe>;

/** All that is joined through the bare loom itself. */
const TestedCircuit = z
  .strictObject({
    number: whole.meta({ description: 'Its number in the tests of this loom, from 1.' }),
    circuit: z.string().meta({
      description:
        'The id of its circuit in `circuits`. Several numbers can have the same circuit: studs, plugs and devices join them in the vehicle.',
    }),
    names: z.array(z.string()).meta({ description: 'The names of circuit that its wires state.' }),
    wires: z.array(Code),
    reference: BenchProbe.meta({ description: 'One probe stays here.' }),
    others: z
      .array(BenchProbe)
      .meta({ description: 'The other probe goes to each of these. The meter beeps at each.' }),
    through: z.array(Code).optional().meta({
      description: 'Joints inside the circuit, which need no probe: the ends behind them are tested.',
    }),
    notSeen: z.array(Code).optional().meta({
      description:
        'Wires to which another way of the same circuit is parallel, as of doubled wires: the meter beeps without them too. Look at them, and pull them.',
    }),
    beepGroup: whole.optional().meta({
      description:
        'Circuits with the same number here may beep with each other, because devices of few ohms lead from one to the other. It is the number of the first of them. With all others they do not beep.',
    }),
  })
  .meta({ id: 'TestedCircuit' });
export type TestedCircuit = z.infer<typeof TestedCircuit>;

const TestedNeighbours = z.strictObject({ point: Code, a: BenchProbe, b: BenchProbe }).meta({
  id: 'TestedNeighbours',
  description: 'Two ways of a point, next to each other, that are not joined. The meter does not beep.',
});

const TestedDevice = z
  .strictObject({
    kind: z.enum(['diode', 'resistor', 'resistorWire']),
    point: Code.optional().meta({ description: 'The point at which the device is.' }),
    wire: Code.optional().meta({ description: 'Of a resistor wire: the wire.' }),
    a: BenchProbe.meta({ description: 'Of a diode: its anode, if the names of its ways say so.' }),
    b: BenchProbe,
    directionKnown: z
      .boolean()
      .optional()
      .meta({ description: 'Of a diode: whether the names of its ways say which is its anode.' }),
    ohm: z.number().positive().optional(),
    leastOhm: decimal.optional(),
    mostOhm: decimal.optional(),
    tolerancePercent: decimal.optional(),
    toleranceFrom: z
      .enum(['part', 'memory'])
      .optional()
      .meta({ description: 'part: the part states it. memory: from memory, no source.' }),
    leastVolts: decimal
      .optional()
      .meta({ description: 'Of a diode: what the meter shows in the direction that conducts, at least.' }),
    mostVolts: decimal.optional(),
    parallel: z.literal(true).optional().meta({
      description:
        'true: another way is parallel to it, so the meter shows both. Take one of its ends off to measure it.',
    }),
  })
  .meta({
    id: 'TestedDevice',
    description: 'A device that is joined firmly into the loom, or a resistor wire.',
  });
export type TestedDevice = z.infer<typeof TestedDevice>;

const When = z.enum(['bench', 'fitted']).meta({
  description: 'bench: on the bare loom, unplugged. fitted: in the vehicle.',
});

const TestedFuse = z
  .strictObject({
    point: Code.meta({ description: 'The fuse holder.' }),
    a: BenchProbe,
    b: BenchProbe,
    ratingAmps: z.number().positive().optional(),
    basis: z.enum(['continuous', 'blow']).optional(),
    when: When,
    parallel: z.literal(true).optional().meta({
      description: 'true: both sides are joined in another way too, so the meter may beep with the fuse out.',
    }),
  })
  .meta({ id: 'TestedFuse', description: 'One fuse. Out: the meter does not beep. In: it beeps.' });
export type TestedFuse = z.infer<typeof TestedFuse>;

const LoadTest = z
  .strictObject({
    wires: z.array(Code),
    a: BenchProbe,
    b: BenchProbe,
    amps: z.number().positive().meta({ description: 'Send this current from one probe to the other.' }),
    millivoltsAtMost: whole.meta({
      description:
        'Volts lost between the probes, at most, mV: in the wires when they are warm, and in each join.',
    }),
    when: When,
  })
  .meta({
    id: 'LoadTest',
    description: 'A test of wires in which much of the allowed loss of volts is expected.',
  });
export type LoadTest = z.infer<typeof LoadTest>;

export const BenchTests = z
  .strictObject({
    circuits: z.array(TestedCircuit),
    neighbours: z.array(TestedNeighbours),
    devices: z.array(TestedDevice),
    fuses: z.array(TestedFuse),
    loads: z.array(LoadTest),
    joinedInVehicle: z
      .array(
        z.strictObject({
          points: z.array(Code),
          circuits: z.array(whole),
        }),
      )
      .meta({
        description: 'Circuits that are apart on the bench, and where they are joined in the vehicle.',
      }),
    notTested: z
      .array(z.strictObject({ point: Code, why: z.enum(['unknownDevice', 'fuseWaysUnknown']) }))
      .meta({
        description:
          'Points with something in them that these tests do not reach. unknownDevice: what lies between the pins of a device in the loom is not known. fuseWaysUnknown: which ways one fuse joins is not known.',
      }),
  })
  .meta({
    id: 'BenchTests',
    description: 'What a meter must show, on the bare loom with all of it unplugged.',
  });
export type BenchTests = z.infer<typeof BenchTests>;
