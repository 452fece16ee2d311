import type { BenchPoint } from '../model/bench.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import { supplyOf } from '../loom/counts/supply.ts';

/** The points of a loom, in its order. */
export function pointsOf({ loom, settings }: AskedLoom, { parts }: CheckContext): BenchPoint[] {
  return loom.points.map((point): BenchPoint => {
    const { id, kind, label, matedTo, suppliedByLoom } = point;
    const part = point.part === undefined ? undefined : parts.get(point.part);
    const pins = pinsOf(point, part);
    const others = suppliedByLoom !== undefined && suppliedByLoom !== loom.code;
    const { supply } = supplyOf(point, part, settings);
    return {
      point: id,
      kind,
      ...(label === undefined ? {} : { label }),
      ...(part ? { part: part.code } : {}),
      ...(pins.length === 0 ? {} : { pins: [...pins] }),
      ...(others ? { fromLoom: suppliedByLoom } : {}),
      ...(matedTo ? { matedTo: { loom: matedTo.loom ?? loom.code, point: matedTo.point } } : {}),
      ...(part && supply !== 'buy' && !others ? { supply } : {}),
    };
  });
}

type Point = AskedLoom['loom']['points'][number];
type Part = CheckContext['parts'] extends ReadonlyMap<string, infer P> ? P : never;

/** The names of a point's ways, as the loom has them, else its part. */
export function pinsOf({ pins }: Point, part: Part | undefined): readonly string[] {
  if (pins && pins.length > 0) return pins;
  return part?.kind === 'device' ? (part.pins ?? []) : [];
}
