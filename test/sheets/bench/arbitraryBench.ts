import fc from 'fast-check';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { mm2 } from '../../engine/fixtures.ts';

type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type End = Wire['from'];

export const BENCH_PARTS: JobInput['parts'] = [
  { kind: 'terminal', code: 'blade', description: 'Blade', terminalType: 'blade' },
  { kind: 'terminal', code: 'ring', description: 'Ring', terminalType: 'ring' },
  { kind: 'joiner', code: 'block', description: 'Block', joinerType: 'block', positions: 6 },
  { kind: 'device', code: 'diode', description: 'Diode', deviceType: 'diode', pins: ['a', 'k'] },
  {
    kind: 'device',
    code: 'ballast',
    description: 'Ballast',
    deviceType: 'resistor',
    pins: ['1', '2'],
    resistanceOhm: 10,
    tolerancePercent: 2,
  },
  {
    kind: 'device',
    code: 'bleed',
    description: 'Bleed',
    deviceType: 'resistor',
    pins: ['1', '2'],
    resistanceOhm: 1000,
  },
  { kind: 'device', code: 'holder', description: 'Holder', deviceType: 'fuseHolder', pins: ['in', 'out'] },
  { kind: 'device', code: 'lamp', description: 'Lamp', deviceType: 'lamp', pins: ['58', '31'] },
  {
    kind: 'wire',
    code: 'resistor-wire',
    description: 'Resistor wire',
    cableType: 'resistor',
    size: mm2(0.5),
    colour: { base: 'black' },
    resistanceMilliohmPerM: 10_000,
  },
];

const POINTS: Loom['points'] = [
  { id: 'plug', kind: 'connector' },
  { id: 'socket', kind: 'connector' },
  { id: 'stud', kind: 'stud' },
  { id: 'splice', kind: 'joint' },
  { id: 'inline', kind: 'joint' },
  { id: 'block', kind: 'joiner', part: 'block' },
  { id: 'rows', kind: 'joiner', part: 'block' },
  { id: 'diode', kind: 'device', part: 'diode' },
  { id: 'ballast', kind: 'device', part: 'ballast' },
  { id: 'bleed', kind: 'device', part: 'bleed' },
  { id: 'holder', kind: 'device', part: 'holder', supply: 'buy' },
  { id: 'lamp', kind: 'device', part: 'lamp' },
  { id: 'lead', kind: 'flyingLead' },
];

const crimped = (point: string, way: string | undefined, terminal: string, shared?: string): End => ({
  point,
  ...(way === undefined ? {} : { way }),
  join: 'crimp',
  terminal: { part: terminal },
  ...(shared === undefined ? {} : { sharesTerminal: shared }),
});
const soldered = (point: string, way: string): End => ({ point, way, join: 'solder' });

/** Where a wire may end, the usual places more often. */
const ENDS: readonly End[] = [
  ...['plug', 'socket'].flatMap((point) => ['1', '2', '3'].map((way) => crimped(point, way, 'blade'))),
  crimped('plug', '4', 'blade', 'pair'),
  crimped('stud', undefined, 'ring'),
  crimped('stud', undefined, 'ring', 'one'),
  crimped('stud', undefined, 'ring', 'one'),
  { point: 'splice', join: 'joint' },
  { point: 'splice', join: 'joint' },
  { point: 'inline', join: 'joint' },
  crimped('block', undefined, 'blade'),
  crimped('rows', 'upper', 'blade'),
  crimped('rows', 'lower', 'blade'),
  ...['a', 'k'].map((way) => soldered('diode', way)),
  ...['1', '2'].flatMap((way) => [soldered('ballast', way), soldered('bleed', way)]),
  ...['in', 'out'].map((way) => crimped('holder', way, 'blade')),
  crimped('lamp', '58', 'blade'),
  crimped('lamp', '31', 'blade', 'earth'),
  { point: 'lead', join: 'bare' },
];

const anEnd: fc.Arbitrary<End> = fc
  .record({ end: fc.constantFrom(...ENDS), late: fc.integer({ min: 0, max: 15 }) })
  .map(({ end, late }) => (late === 0 ? { ...end, terminateInVehicle: true } : { ...end }));

/** Looms with every kind of point that a meter meets. */
export const benchLoom: fc.Arbitrary<Omit<Loom, 'code' | 'name'>> = fc
  .array(
    fc
      .record({ from: anEnd, to: anEnd, resistor: fc.integer({ min: 0, max: 9 }) })
      .filter(({ from, to }) => from.point !== to.point),
    { minLength: 1, maxLength: 9 },
  )
  .map((wires) => ({
    points: POINTS,
    wires: wires.map(({ from, to, resistor }, index): Wire => ({
      id: `W${index + 1}`,
      cableType: resistor === 0 ? 'resistor' : 'thin-wall',
      size: mm2(0.5),
      colour: { base: 'black' },
      from,
      to,
      length: { mm: 1000, basis: 'route' },
      ...(resistor === 0 ? { function: { targetOhm: 8 } } : {}),
    })),
  }));
