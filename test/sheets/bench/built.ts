import type { JobInput } from '../../../worker/engine/model/job.ts';

type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type Point = NonNullable<Loom['points']>[number];
type End = Wire['from'];
type Part = JobInput['parts'][number];

/** Ends that touch on the bench, by wire and side: "W1 from". */
interface Contact {
  point: string;
  ends: readonly string[];
}

/** What conducts between two contacts. */
export interface Element {
  name: string;
  a: number;
  b: number;
  /** Of a diode that conducts from a to b none. */
  ohm: number | undefined;
}

/** A loom as it lies on the bench: its contacts and what is between them. All fuses are out. */
export interface Built {
  contacts: readonly Contact[];
  elements: readonly Element[];
  /** The two clips of each fuse. */
  clips: ReadonlyMap<string, readonly [number, number]>;
}

const WIRE_OHM = 0.01;
const sides = ['from', 'to'] as const;

/**
 * The bare loom as somebody builds it by the drawing, worked out from the drawing alone: two ends touch where they are in one
 * terminal, in one way of a housing that is there, in one joint or joiner. Slow and simple: each end is laid to every other.
 */
export function builtBy(loom: Loom, parts: readonly Part[]): Built {
  const wires = loom.wires ?? [];
  const points = new Map((loom.points ?? []).map((point) => [point.id, point]));
  const partOf = ({ part }: Point) => parts.find(({ code }) => code === part);
  const ends = wires.flatMap((wire) =>
    sides.map((side) => ({ name: `${wire.id} ${side}`, end: wire[side] })),
  );
  const isLate = (end: End) =>
    ends.some(
      (other) =>
        other.end.terminateInVehicle === true &&
        (other.end === end || (end.sharesTerminal !== undefined && isOne(other.end, end))),
    );
  const touch = (one: End, other: End): boolean => {
    const point = points.get(one.point);
    if (!point || one.point !== other.point || isLate(one) || isLate(other)) return false;
    if (isOne(one, other)) return true;
    if (point.kind === 'joint') return true;
    if (point.kind === 'joiner' && (one.way === undefined || one.way === other.way)) return true;
    return isHoused(point, partOf(point)) && one.way !== undefined && one.way === other.way;
  };
  const contacts: { point: string; ends: string[] }[] = [];
  for (const { name, end } of ends) {
    const met = contacts.filter((contact) =>
      contact.ends.some((known) => touch(end, ends.find((each) => each.name === known)?.end ?? end)),
    );
    const merged = { point: end.point, ends: [...met.flatMap((contact) => contact.ends), name] };
    for (const contact of met) contacts.splice(contacts.indexOf(contact), 1);
    contacts.push(merged);
  }
  const at = (name: string) => contacts.findIndex((contact) => contact.ends.includes(name));
  const elements: Element[] = wires.map((wire) => ({
    name: wire.id,
    a: at(`${wire.id} from`),
    b: at(`${wire.id} to`),
    ohm: wire.function && 'targetOhm' in wire.function ? wire.function.targetOhm : WIRE_OHM,
  }));
  const clips = new Map<string, readonly [number, number]>();
  for (const point of points.values()) {
    const part = partOf(point);
    if (part?.kind !== 'device' || point.kind !== 'device') continue;
    const pin = (way: string) => {
      const own = ends.find(({ end }) => end.point === point.id && end.way === way && !isLate(end));
      return own && at(own.name);
    };
    const [a, b] = (part.pins ?? []).map(pin);
    if (a === undefined || b === undefined) continue;
    if (part.deviceType === 'diode') elements.push({ name: point.id, a, b, ohm: undefined });
    if (part.deviceType === 'resistor') elements.push({ name: point.id, a, b, ohm: part.resistanceOhm ?? 0 });
    if (part.deviceType === 'fuseHolder') clips.set(point.id, [a, b]);
  }
  return { contacts, elements, clips };
}

function isOne(one: End, other: End): boolean {
  return (
    one.point === other.point &&
    one.sharesTerminal !== undefined &&
    one.sharesTerminal === other.sharesTerminal
  );
}

/** Of devices only what is soldered in, or comes new with the loom, is on the bench. */
function isHoused(point: Point, part: Part | undefined): boolean {
  if (point.kind === 'connector') return true;
  return point.kind === 'device' && part?.kind === 'device' && part.deviceType !== 'lamp';
}
