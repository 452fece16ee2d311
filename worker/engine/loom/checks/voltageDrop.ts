import { joinOf, SIDES } from '../../model/loom.ts';
import type { Finding } from '../../model/finding.ts';
import { conductors, lengthsOf, type Conductor } from '../graph/conductors.ts';
import type { WireOf } from '../graph/joins.ts';
import { worstWays } from '../graph/worstWay.ts';
import type { CheckContext } from './context.ts';
import { atWire, bySort, eachWire, firstOf, type WirePlace } from './eachWire.ts';

/** Below this a difference is noise of the sum, mV. */
const NOISE_MV = 1e-6;

const SOURCE =
  'the setting voltageDropPercent; no published limit for road vehicles is known (for boats, ABYC E-11 has 3 % for critical circuits and 10 % for others)';

/** A way over which volts are lost. */
export interface Drop {
  way: readonly Conductor[];
  /** In its wires and all joints that it passes, mV; the way back through the body is not in it. */
  cost: number;
  subject: string;
  /** Its circuit has a loop, so the way is one wire. */
  loop: boolean;
}

/** Volts lost over the worst way through each circuit, as `voltage-drop` finds; those beyond its limit. */
export function checkVoltageDrop(context: CheckContext): Finding[] {
  return [...worstDrops(context).flatMap(dropOver), ...unknownResistances(context)];
}

/**
 * The worst way through each circuit: its wires at working temperature, and its joints. Where wires make a loop, as doubled
 * wires do, how they share the current is not known, and each is judged by itself. Wires without amps are left out, and so
 * is what a switch or fuse parts from the circuit.
 */
export function worstDrops(context: CheckContext): Drop[] {
  const lengths = lengthsOf(context.looms);
  const isJoint = jointPlaces(context);
  return context.circuits.all.flatMap(({ id, wires }) => {
    const carrying = conductors(wires, context.figures, lengths);
    const jointMv = new Map<number, number>();
    for (const { of, from, to } of carrying)
      for (const place of [from, to])
        if (isJoint.has(place)) jointMv.set(place, of.asked.settings.jointMillivolts);
    const at = (place: number) => jointMv.get(place) ?? 0;
    return worstWays(carrying, at).flatMap((stretch): Drop[] =>
      stretch.loop
        ? stretch.links.map((link) => {
            const cost = link.cost + at(link.from) + (link.to === link.from ? 0 : at(link.to));
            return { way: [link], cost, subject: `wire:${link.of.wire.id}`, loop: true };
          })
        : [{ way: stretch.way, cost: stretch.cost, subject: `circuit:${id}`, loop: false }],
    );
  });
}

/** What may be lost over a way that this wire is on, and how much of it the way back through the body takes, mV. */
export function dropLimit({ of: { asked } }: Conductor): { limitMv: number; backMv: number } {
  const { loom, settings } = asked;
  return {
    limitMv: loom.systemVoltage * 10 * settings.voltageDropPercent,
    backMv: loom.earth === 'insulatedReturn' ? 0 : settings.returnMillivolts,
  };
}

/** The wire of a way that loses the most. */
export function heaviestOf(way: readonly Conductor[]): Conductor | undefined {
  return way.reduce<Conductor | undefined>((a, b) => (a && a.cost >= b.cost ? a : b), undefined);
}

/** The places that are a joint or a joiner: one loss for all ends that meet there. */
function jointPlaces({ looms, circuits }: CheckContext): Set<number> {
  const joining = new Map(
    looms.map(({ loom }) => [
      loom.code,
      new Set(loom.points.flatMap(({ id, kind }) => (kind === 'joint' || kind === 'joiner' ? [id] : []))),
    ]),
  );
  const places = new Set<number>();
  for (const { wires } of circuits.all)
    for (const of of wires)
      for (const side of SIDES) {
        const { point } = of.wire[side];
        if (joinOf(of.wire[side]) === 'joint' || joining.get(of.asked.loom.code)?.has(point))
          places.add(of[side]);
      }
  return places;
}

function dropOver({ way, cost, subject, loop }: Drop): Finding[] {
  const heaviest = heaviestOf(way);
  if (!heaviest || way.every(({ wireMv }) => wireMv === undefined)) return [];
  const { loom, settings } = heaviest.of.asked;
  const { limitMv: limit, backMv: back } = dropLimit(heaviest);
  if (cost + back <= limit + NOISE_MV) return [];
  const wires = sum(way.map(({ wireMv }) => wireMv ?? 0));
  const joints = cost - wires;
  const terms = [
    `${loom.earth === 'insulatedReturn' ? 'wires, there and back,' : 'wires'} ${volts(wires)}`,
    `joints ${volts(joints)}`,
    ...(back > 0 ? [`way back ${volts(back)}`] : []),
  ];
  const unknown = forwards(way)
    .filter(({ wireMv }) => wireMv === undefined)
    .map(({ of }) => of.wire.id);
  return [
    {
      code: 'voltage-drop',
      severity: 'warning',
      ...atWire(heaviest.of),
      subject,
      found: [
        `${volts(cost + back)} lost over ${forwards(way)
          .map(({ of }) => named(of, heaviest.of))
          .join(', ')} at ${settings.workingTemperatureC} °C: ${terms.join(' + ')}`,
        ...(unknown.length > 0 ? [`the loss in ${unknown.join(', ')} is not known and not included`] : []),
        ...(loop ? ['its circuit has a loop, so each wire is checked by itself'] : []),
      ].join('; '),
      limit: `${volts(limit)}: ${settings.voltageDropPercent} % of ${loom.systemVoltage} V`,
      source: SOURCE,
      todo: 'Use a larger size or a shorter way, feed it through a relay nearby, or correct the amps.',
    },
  ];
}

/** A way reads the same from either end: from the one that the loom lists first. */
function forwards(way: readonly Conductor[]): readonly Conductor[] {
  const [first, last] = [way[0]?.of, way.at(-1)?.of];
  if (!first || !last) return way;
  const later = first.asked.index - last.asked.index || first.index - last.index;
  return later > 0 ? [...way].reverse() : way;
}

function named({ asked, wire }: WireOf, beside: WireOf): string {
  return asked === beside.asked ? wire.id : `${asked.loom.code}/${wire.id}`;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function volts(millivolts: number): string {
  return `${(millivolts / 1000).toFixed(2)} V`;
}

/** One for each cable type and size: nothing is assumed where no figure is known. */
function unknownResistances({ looms, figures }: CheckContext): Finding[] {
  const unknown = eachWire(looms).filter(
    ({ wire }) => (wire.amps ?? 0) > 0 && !wire.function && !figures.of(wire).milliohmPerM,
  );
  return bySort(unknown).flatMap((wires): Finding[] => {
    const [first]: (WirePlace | undefined)[] = wires;
    if (!first) return [];
    return [
      {
        code: 'resistance-unknown',
        severity: 'note',
        ...atWire(first, 'cableType'),
        found: `no resistance is known for ${firstOf(wires)} with amps`,
        todo: 'Their loss is not included in the volts lost. State resistanceMilliohmPerM at the wire part, from its maker’s data sheet.',
      },
    ];
  });
}
