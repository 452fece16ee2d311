import type { Requirement } from '../model/result.ts';

/** The lengths to which the pieces of looms are cut. */
export interface Cuts {
  wire: (loom: string, wire: string) => number | undefined;
  /** Of "covering C3", "cable K1". */
  length: (loom: string, what: string) => number | undefined;
  tracerSleeve: (loom: string, wire: string) => { part: string; lengthMm: number } | undefined;
}

const TRACER = 'tracer sleeve, wire ';

export function cutsIn(requirements: readonly Requirement[]): Cuts {
  const wires = new Map<string, number>();
  const lengths = new Map<string, number>();
  const sleeves = new Map<string, { part: string; lengthMm: number }>();
  for (const need of requirements)
    if (need.kind === 'wire')
      for (const { loom, wire, cutMm } of need.pieces) wires.set(key(loom, wire), cutMm);
    else if (need.kind === 'length')
      for (const { loom, what, cutMm } of need.pieces)
        if (what.startsWith(TRACER))
          sleeves.set(key(loom, what.slice(TRACER.length)), { part: need.part, lengthMm: cutMm });
        else lengths.set(key(loom, what), cutMm);
  return {
    wire: (loom, wire) => wires.get(key(loom, wire)),
    length: (loom, what) => lengths.get(key(loom, what)),
    tracerSleeve: (loom, wire) => sleeves.get(key(loom, wire)),
  };
}

const key = (loom: string, name: string) => JSON.stringify([loom, name]);
