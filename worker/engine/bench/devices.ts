import type { BenchTests, TestedDevice } from '../model/benchTests.ts';
import type { Part } from '../model/part.ts';
import { isAnode, isCathode } from '../loom/protection/markings.ts';
import type { AskedLoom } from '../loom/asked.ts';
import { UnionFind } from '../loom/graph/unionFind.ts';
import { bridgesOf, type Edge } from './bridges.ts';
import { isResistor, type OwnCircuits } from './circuits.ts';
import { finishedInVehicle } from './inVehicle.ts';
import type { OnBench } from './onBench.ts';
import type { BenchPlaces } from './places.ts';

type Device = Extract<Part, { kind: 'device' }>;
type Measured = { row: Omit<TestedDevice, 'a' | 'b'>; a: number; b: number };

/** Under this a meter may beep, Ω: hand meters differ, from about 30 to 100; from memory, no source. */
const BEEPS_UNDER_OHM = 100;
/** Of a resistor whose part states no tolerance, percent: the usual one of wire-wound resistors; from memory, no source. */
const TOLERANCE_PERCENT = 5;
/** What a meter's diode range shows of a silicon diode that conducts, V: from memory, no source. */
const DIODE_VOLTS = { leastVolts: 0.4, mostVolts: 0.8 };

export interface DevicesOnBench {
  devices: TestedDevice[];
  unknown: BenchTests['notTested'];
  /** The group of circuits that may beep with each other, if this one is in any. */
  beepGroup: (number: number) => number | undefined;
}

/** What lies between the circuits of a bare loom: diodes and resistors that are joined firmly into it, and resistor wires. */
export function devicesOnBench(
  asked: AskedLoom,
  points: ReadonlyMap<string, OnBench>,
  places: BenchPlaces,
  circuits: OwnCircuits,
): DevicesOnBench {
  const measured: Measured[] = resistorWires(asked, places);
  const unknown: { point: string; places: number[] }[] = [];
  for (const [id, pins] of pinsInLoom(asked, points, places)) {
    const device = deviceOf(points.get(id));
    const row = device && pins.length === 2 ? measuredDevice(id, device, pins, places) : undefined;
    if (row) measured.push(row);
    else if (pins.length > 1) unknown.push({ point: id, places: pins });
  }
  const count = circuits.all.length;
  // Each device that is not known is a node of its own, beside the circuits.
  const edges: Edge[] = [
    ...measured.map(({ a, b }) => ({ from: circuits.at(a) - 1, to: circuits.at(b) - 1 })),
    ...unknown.flatMap(({ places: pins }, index) =>
      pins.map((pin) => ({ from: circuits.at(pin) - 1, to: count + index })),
    ),
  ];
  const { isBridge } = bridgesOf(count + unknown.length, edges);
  const beeping = edges.filter((_, index) => beeps(measured[index]?.row));
  return {
    devices: measured.map(({ row, a, b }, index) => ({
      ...row,
      a: places.briefly(a),
      b: places.briefly(b),
      ...(isBridge[index] === true ? {} : { parallel: true as const }),
    })),
    unknown: unknown.map(({ point }) => ({ point, why: 'unknownDevice' })),
    beepGroup: beepGroups(count, count + unknown.length, beeping),
  };
}

function beeps(row: Measured['row'] | undefined): boolean {
  return row?.kind !== 'diode' && (row?.mostOhm ?? 0) < BEEPS_UNDER_OHM;
}

/** Of each circuit that hangs together with others the number of the first of them; of others none. */
function beepGroups(
  count: number,
  nodes: number,
  edges: readonly Edge[],
): (number: number) => number | undefined {
  const sets = new UnionFind();
  for (let node = 0; node < nodes; node++) sets.add();
  for (const { from, to } of edges) sets.join(from, to);
  const first = new Map<number, number>();
  const alone = new Set<number>();
  for (let node = 0; node < count; node++) {
    const root = sets.find(node);
    if (first.has(root)) alone.delete(root);
    else {
      first.set(root, node + 1);
      alone.add(root);
    }
  }
  return (number) => {
    const root = sets.find(number - 1);
    return alone.has(root) ? undefined : first.get(root);
  };
}

function deviceOf(at: OnBench | undefined): Device | undefined {
  return at?.part?.kind === 'device' ? at.part : undefined;
}

function resistorWires({ loom }: AskedLoom, places: BenchPlaces): Measured[] {
  return loom.wires.filter(isResistor).map((wire) => ({
    row: {
      kind: 'resistorWire',
      wire: wire.id,
      ...(wire.function && 'targetOhm' in wire.function ? rangeOf(wire.function.targetOhm, undefined) : {}),
    },
    a: places.of(wire, 'from'),
    b: places.of(wire, 'to'),
  }));
}

/** The places at each device that stays in the loom; holders of fuses have tests of their own. */
function pinsInLoom(
  { loom }: AskedLoom,
  points: ReadonlyMap<string, OnBench>,
  places: BenchPlaces,
): Map<string, number[]> {
  const isLate = finishedInVehicle(loom.wires);
  const pins = new Map<string, Set<number>>();
  for (const wire of loom.wires)
    for (const side of ['from', 'to'] as const) {
      const id = wire[side].point;
      const at = points.get(id);
      const type = deviceOf(at)?.deviceType;
      if (!at?.here || at.point.kind !== 'device' || type === 'fuseHolder' || type === 'fuse') continue;
      // What is finished in the vehicle is not joined to the device yet.
      if (isLate(wire[side])) continue;
      pins.set(id, (pins.get(id) ?? new Set()).add(places.of(wire, side)));
    }
  return new Map([...pins].map(([id, own]) => [id, [...own]]));
}

function measuredDevice(
  point: string,
  device: Device,
  [first = -1, second = -1]: readonly number[],
  places: BenchPlaces,
): Measured | undefined {
  if (device.deviceType === 'resistor')
    return {
      row: { kind: 'resistor', point, ...rangeOf(device.resistanceOhm, device.tolerancePercent) },
      a: first,
      b: second,
    };
  if (device.deviceType !== 'diode') return undefined;
  const [one, other] = [first, second].map((place) => places.at(place).probe.way);
  const turned = isCathode(one) || isAnode(other);
  const directionKnown = turned || isAnode(one) || isCathode(other);
  return {
    row: { kind: 'diode', point, directionKnown, ...DIODE_VOLTS },
    a: turned ? second : first,
    b: turned ? first : second,
  };
}

function rangeOf(ohm: number | undefined, tolerance: number | undefined): Partial<TestedDevice> {
  if (ohm === undefined) return {};
  const tolerancePercent = tolerance ?? TOLERANCE_PERCENT;
  const rounded = (value: number) => Number(value.toPrecision(6));
  return {
    ohm,
    leastOhm: rounded((ohm * (100 - tolerancePercent)) / 100),
    mostOhm: rounded((ohm * (100 + tolerancePercent)) / 100),
    tolerancePercent,
    toleranceFrom: tolerance === undefined ? 'memory' : 'part',
  };
}
