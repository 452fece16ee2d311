import type { BenchProbe, WireEnd } from '../model/benchTests.ts';
import { joinOf, SIDES, type End, type Side, type Wire } from '../model/loom.ts';
import type { AskedLoom } from '../loom/asked.ts';
import { joinsAll } from '../loom/graph/joins.ts';
import { UnionFind } from '../loom/graph/unionFind.ts';
import { finishedInVehicle } from './inVehicle.ts';
import type { OnBench } from './onBench.ts';

/** More ends than this are not repeated in every row and at every end: no terminal takes so many. */
export const MANY = 30;

/** Ends that are joined right where they are, on the bench. */
export interface BenchPlace {
  probe: BenchProbe;
  /** The place of the point in the loom’s list. */
  pointIndex: number;
  /** Whether it is a joint, which is covered, so that a probe hardly gets there. */
  inner: boolean;
  /** Whether it is a loose end, which is finished in the vehicle. */
  late: boolean;
}

/** The places of a loom on the bench, and at which of them each end is. */
export interface BenchPlaces {
  all: readonly BenchPlace[];
  of: (wire: Wire, side: Side) => number;
  at: (place: number) => BenchPlace;
  /** Its probe, for a row that only has to find it: where very many ends meet, the first of them. */
  briefly: (place: number) => BenchProbe;
}

/**
 * What touches on the bench: ends in one terminal, one way of a housing, one joint or joiner, one pin of a device that is
 * soldered in. Rings that one stud joins do not, and an end that is finished in the vehicle touches none.
 */
export function benchPlaces({ loom }: AskedLoom, points: ReadonlyMap<string, OnBench>): BenchPlaces {
  const isLate = finishedInVehicle(loom.wires);
  const sets = new UnionFind();
  const nodes = new Map<string, number>();
  const node = (key: readonly string[]): number => {
    const name = JSON.stringify(key);
    const known = nodes.get(name) ?? sets.add();
    nodes.set(name, known);
    return known;
  };
  const ends = loom.wires.map((wire) => {
    const numbers = { from: sets.add(), to: sets.add() };
    for (const side of SIDES) {
      const end = wire[side];
      for (const key of isLate(end) ? [] : touching(end, points.get(end.point)))
        sets.join(numbers[side], node([end.point, ...key]));
    }
    return numbers;
  });
  const indexes = new Map(loom.points.map(({ id }, index) => [id, index]));
  const byRoot = new Map<number, number>();
  const all: BenchPlace[] = [];
  const ofWire = new Map<Wire, Record<Side, number>>();
  loom.wires.forEach((wire, index) => {
    const own = { from: 0, to: 0 };
    for (const side of SIDES) {
      const end = wire[side];
      const root = sets.find(ends[index]?.[side] ?? 0);
      const known = byRoot.get(root) ?? all.length;
      byRoot.set(root, known);
      const at: WireEnd = { wire: wire.id, side };
      const place = all[known];
      if (place) {
        place.probe.ends.push(at);
        place.probe.way ??= end.way;
        place.inner ||= !isLate(end) && isInJoint(end, points.get(end.point));
      } else
        all.push({
          late: isLate(end),
          probe: { point: end.point, way: end.way, ends: [at] },
          pointIndex: indexes.get(end.point) ?? 0,
          inner: !isLate(end) && isInJoint(end, points.get(end.point)),
        });
      own[side] = known;
    }
    ofWire.set(wire, own);
  });
  const at = (place: number): BenchPlace => {
    const found = all[place];
    if (!found) throw new Error(`no place ${place} on the bench`);
    return found;
  };
  const briefly = (place: number): BenchProbe => {
    const { probe } = at(place);
    return probe.ends.length <= MANY ? probe : { ...probe, ends: probe.ends.slice(0, MANY) };
  };
  return { all, at, briefly, of: (wire, side) => ofWire.get(wire)?.[side] ?? -1 };
}

/** What an end touches at its point: the ends that have one of these keys too. */
function touching(end: End, at: OnBench | undefined): string[][] {
  if (!at) return [];
  const { point, part, here } = at;
  const keys: string[][] = [];
  if (end.sharesTerminal !== undefined) keys.push(['terminal', end.sharesTerminal]);
  if (here && end.way !== undefined) keys.push(['way', end.way]);
  const isCommon = here && point.kind === 'joiner' && (end.way === undefined || joinsAll(part));
  if (isInJoint(end, at) || isCommon) keys.push(['all']);
  return keys;
}

function isInJoint(end: End, at: OnBench | undefined): boolean {
  return at?.point.kind === 'joint' || joinOf(end) === 'joint';
}
