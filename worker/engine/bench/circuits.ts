import type { BenchProbe, TestedCircuit } from '../model/benchTests.ts';
import { byCode } from '../model/code.ts';
import { addTo } from '../model/group.ts';
import { SIDES, type Wire } from '../model/loom.ts';
import { naturally } from '../model/naturally.ts';
import type { AskedLoom } from '../loom/asked.ts';
import { bridgesOf } from './bridges.ts';
import type { BenchPlaces } from './places.ts';

/** A circuit of the bare loom, without the other circuits that it may beep with. */
export type OwnCircuit = Omit<TestedCircuit, 'circuit' | 'beepGroup'>;

/** The circuits of a bare loom, in the order in which their references stand in it. */
export interface OwnCircuits {
  all: readonly OwnCircuit[];
  /** The number of the circuit at a place, from 1. */
  at: (place: number) => number;
}

/**
 * What is joined through the wires of the bare loom alone. A resistor wire joins nothing here: it is measured by itself.
 *
 * Each end of the tree of parts that single wires join gets a probe, so that no such wire can be missing, or be joined
 * elsewhere, with all rows as they should be.
 */
export function circuitsOnBench(asked: AskedLoom, places: BenchPlaces): OwnCircuits {
  const wires = asked.loom.wires.filter((wire) => !isResistor(wire));
  const edges = wires.map((wire) => ({ from: places.of(wire, 'from'), to: places.of(wire, 'to') }));
  const { isBridge, component, block } = bridgesOf(places.all.length, edges);
  const leaves = new Map<number, number>();
  edges.forEach(({ from, to }, edge) => {
    if (isBridge[edge] !== true) return;
    for (const place of [from, to]) {
      const own = block[place] ?? -1;
      leaves.set(own, (leaves.get(own) ?? 0) + 1);
    }
  });
  // A joint at which a resistor wire begins is where that is measured.
  const measured = new Set(
    asked.loom.wires.filter(isResistor).flatMap((wire) => SIDES.map((side) => places.of(wire, side))),
  );
  const inBlock = new Map<number, number[]>();
  places.all.forEach((_, place) => addTo(inBlock, block[place] ?? -1, place));
  const probed = new Map<number, number[]>();
  for (const [own, members] of inBlock) {
    const outer = members.filter((place) => !places.at(place).inner || measured.has(place));
    const needed = outer.length === 0 && (leaves.get(own) ?? 0) <= 1 ? members.slice(0, 1) : outer;
    for (const place of needed) addTo(probed, component[place] ?? -1, place);
  }
  const wiresIn = new Map<number, { wire: Wire; seen: boolean }[]>();
  wires.forEach((wire, edge) =>
    addTo(wiresIn, component[edges[edge]?.from ?? -1] ?? -1, { wire, seen: isBridge[edge] === true }),
  );
  const inComponent = new Map<number, number[]>();
  places.all.forEach((_, place) => addTo(inComponent, component[place] ?? -1, place));
  const rank = rankOf(asked, places, true);
  const inTurn = rankOf(asked, places, false);
  const numbered = [...inComponent]
    .map(([own, members]) => {
      const probes = [...(probed.get(own) ?? [])].sort((a, b) => rank(a) - rank(b));
      return { own, members, probes, first: probes[0] ?? -1 };
    })
    .sort((a, b) => inTurn(a.first) - inTurn(b.first));
  const numbers = new Map(numbered.map(({ own }, index) => [own, index + 1]));
  return {
    at: (place) => numbers.get(component[place] ?? -1) ?? 0,
    all: numbered.map(({ own, members, probes: [reference = -1, ...others] }, index): OwnCircuit => {
      const inside = wiresIn.get(own) ?? [];
      const probedPlaces = new Set([reference, ...others]);
      const through = members.filter((place) => !probedPlaces.has(place));
      const notSeen = inside.filter(({ seen }) => !seen).map(({ wire }) => wire.id);
      return {
        number: index + 1,
        names: [...new Set(inside.flatMap(({ wire }) => wire.circuit ?? []))].sort(byCode),
        wires: inside.map(({ wire }) => wire.id).sort(naturally),
        reference: places.at(reference).probe,
        others: others.map((place) => places.at(place).probe),
        ...(through.length === 0
          ? {}
          : { through: [...new Set(through.map((place) => places.at(place).probe.point))] }),
        ...(notSeen.length === 0 ? {} : { notSeen: notSeen.sort(naturally) }),
      };
    }),
  };
}

export function isResistor(wire: Wire): boolean {
  return wire.function !== undefined && 'targetOhm' in wire.function;
}

const KINDS = ['connector', 'device', 'stud', 'flyingLead', 'breakout', 'joiner', 'joint'];

/**
 * The rank of each place as a reference: where current comes in, if that is asked; then where a probe is held most easily;
 * then in the order of the loom's points, their ways and wires.
 */
function rankOf({ loom }: AskedLoom, places: BenchPlaces, fedFirst: boolean): (place: number) => number {
  const keyed = places.all.map(({ probe, pointIndex, inner }, place) => {
    const point = loom.points[pointIndex];
    const fed = point?.feed !== undefined && (!point.feed.ways || point.feed.ways.includes(probe.way ?? ''));
    const kind = inner ? KINDS.length : KINDS.indexOf(point?.kind ?? 'joint');
    return { place, kind: fedFirst && fed && !inner ? -1 : kind, pointIndex, probe };
  });
  keyed.sort(
    (a, b) =>
      a.kind - b.kind || a.pointIndex - b.pointIndex || byWayAndWire(a.probe, b.probe) || a.place - b.place,
  );
  const ranks = new Map(keyed.map(({ place }, rank) => [place, rank]));
  return (place) => ranks.get(place) ?? -1;
}

function byWayAndWire(a: BenchProbe, b: BenchProbe): number {
  return naturally(a.way ?? '', b.way ?? '') || naturally(a.ends[0]?.wire ?? '', b.ends[0]?.wire ?? '');
}
