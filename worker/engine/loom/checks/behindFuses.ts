import { continuousAmps } from '../../trade/fuses.ts';
import type { Circuit } from '../graph/circuits.ts';
import type { WireOf } from '../graph/joins.ts';
import { UnionFind } from '../graph/unionFind.ts';
import type { CheckContext } from './context.ts';
import type { WirePlace } from './eachWire.ts';

/** A wire with what it is rated for. */
export interface Rated extends WirePlace {
  amps: number;
}

/** Finds the smallest rated wire behind the fuse of a wire. A wire guarded by a fuse of its own does not count. */
export function smallestBehind(context: CheckContext): (fused: WirePlace) => Rated | undefined {
  const { circuits, figures } = context;
  const rated = ({ asked, wire, index }: WireOf): Rated | undefined => {
    const amps = figures.of(wire).ratedAmps?.value;
    if (amps === undefined) return undefined;
    const { fuse } = wire;
    const guarded = fuse !== undefined && continuousAmps(fuse.ratingAmps, fuse.basis) <= amps;
    return guarded ? undefined : { asked, wire, index, amps };
  };
  const inStretch = new Map<Circuit, ReadonlyMap<number, Rated>>();
  const stretchesOf = (circuit: Circuit) => {
    const known = inStretch.get(circuit) ?? smallestByStretch(circuit, rated);
    inStretch.set(circuit, known);
    return known;
  };
  const ofGroup = smallestByGroup(circuits.all, rated);
  const joined = new Map(circuits.all.flatMap(({ wires }) => wires.map((each) => [each.wire, each])));
  return ({ asked, wire }) => {
    const circuit = circuits.of(asked.loom.code, wire.id);
    const own = joined.get(wire);
    if (!own) return undefined;
    const stretches = stretchesOf(circuit);
    const others = (ofGroup.get(circuit.group) ?? []).find((each) => each.circuit !== circuit);
    return smaller(
      smaller(stretches.get(own.from), stretches.get(own.to)),
      smaller(rated(own), others?.least),
    );
  };
}

function smaller(a: Rated | undefined, b: Rated | undefined): Rated | undefined {
  return !a || (b && b.amps < a.amps) ? b : a;
}

/** The smallest wire at each place of a circuit: of the stretch between fuses that it lies in, and the fused ones there. */
function smallestByStretch(
  { wires }: Circuit,
  rated: (wire: WireOf) => Rated | undefined,
): ReadonlyMap<number, Rated> {
  const sets = new UnionFind();
  const members = new Map<number, number>();
  const member = (place: number) => {
    const known = members.get(place) ?? sets.add();
    members.set(place, known);
    return known;
  };
  for (const { wire, from, to } of wires) if (!wire.fuse) sets.join(member(from), member(to));
  const least = new Map<number, Rated>();
  for (const each of wires) {
    const own = rated(each);
    for (const place of [each.from, each.to]) {
      const stretch = sets.find(member(place));
      const smallest = smaller(least.get(stretch), own);
      if (smallest) least.set(stretch, smallest);
    }
  }
  return new Map(
    [...members].flatMap(([place, at]) => {
      const smallest = least.get(sets.find(at));
      return smallest ? [[place, smallest] as const] : [];
    }),
  );
}

/** Of each group the two circuits with the smallest wires, the smallest first. */
function smallestByGroup(
  circuits: readonly Circuit[],
  rated: (wire: WireOf) => Rated | undefined,
): Map<number, { circuit: Circuit; least: Rated }[]> {
  const groups = new Map<number, { circuit: Circuit; least: Rated }[]>();
  for (const circuit of circuits) {
    const least = circuit.wires.reduce<Rated | undefined>(
      (found, each) => smaller(found, rated(each)),
      undefined,
    );
    if (!least) continue;
    const best = [...(groups.get(circuit.group) ?? []), { circuit, least }].sort(
      (a, b) => a.least.amps - b.least.amps,
    );
    groups.set(circuit.group, best.slice(0, 2));
  }
  return groups;
}
