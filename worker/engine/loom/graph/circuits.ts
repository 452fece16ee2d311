import { byCode } from '../../model/code.ts';
import { addTo } from '../../model/group.ts';
import type { Part } from '../../model/part.ts';
import type { LoomCircuit } from '../../model/result.ts';
import type { AskedLoom } from '../asked.ts';
import { joinedWires, type WireOf } from './joins.ts';
import { UnionFind } from './unionFind.ts';

export { mateOf } from './joins.ts';
export type { WireOf } from './joins.ts';

/** All that is joined together electrically, over all looms of the job. */
export interface Circuit {
  /** Its first wire by loom and id: "main/W3". */
  id: string;
  /** What its wires state as their circuit, in byte order; none or one where the loom is in order. */
  names: readonly string[];
  /** In the order of looms and wires. */
  wires: readonly WireOf[];
  /** Circuits of one stated name have one number here: to the user they are one, though a switch or fuse parts them. */
  group: number;
}

export interface Circuits {
  all: readonly Circuit[];
  /** The circuit of a wire of a normalised job. */
  of(loom: string, wire: string): Circuit;
}

/**
 * Circuits derived: through shared terminals; what is in one way; joints and studs; joiners (a block of several rows by
 * way); halves that are plugged together, way for way; a point that another loom of the job brings. Devices, breakouts
 * and flying leads join nothing by themselves.
 */
export function circuitsOf(looms: readonly AskedLoom[], parts: ReadonlyMap<string, Part>): Circuits {
  const { wires, places } = joinedWires(looms, parts);
  for (const { from, to } of wires) places.join(from, to);
  return gathered(wires, places);
}

function gathered(joined: readonly WireOf[], places: UnionFind): Circuits {
  const byRoot = new Map<number, WireOf[]>();
  for (const wire of joined) addTo(byRoot, places.find(wire.from), wire);
  const groups = new UnionFind();
  const named = new Map<string, number>();
  const circuits = [...byRoot.values()].map((wires) => {
    const names = [...new Set(wires.flatMap(({ wire }) => wire.circuit ?? []))].sort(byCode);
    const group = groups.add();
    for (const name of names) {
      const known = named.get(name);
      if (known === undefined) named.set(name, group);
      else groups.join(known, group);
    }
    return { id: wires[0] ? wireKey(wires[0].asked.loom.code, wires[0].wire.id) : '', names, wires, group };
  });
  const all: Circuit[] = circuits.map((circuit) => ({ ...circuit, group: groups.find(circuit.group) }));
  const ofWire = new Map(
    all.flatMap((circuit) =>
      circuit.wires.map(({ asked, wire }) => [wireKey(asked.loom.code, wire.id), circuit] as const),
    ),
  );
  return {
    all,
    of: (loom, wire) => {
      const circuit = ofWire.get(wireKey(loom, wire));
      if (!circuit) throw new Error(`no wire ${wire} in loom ${loom}`);
      return circuit;
    },
  };
}

/** As a result tells it. */
export function circuitLine({ id, names, wires }: Circuit): LoomCircuit {
  return {
    id,
    names: [...names],
    wires: wires.map(({ asked, wire }) => ({ loom: asked.loom.code, wire: wire.id })),
  };
}

/** Codes hold no stroke. */
function wireKey(loom: string, wire: string): string {
  return `${loom}/${wire}`;
}
