import { byCode } from '../model/code.ts';
import type { Bench, BenchLoom } from '../model/bench.ts';
import type { Requirement } from '../model/result.ts';
import type { Part } from '../model/part.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import { laidOf } from './laid.ts';
import { pointsOf } from './points.ts';
import { cutsIn } from './cuts.ts';
import { testsOf } from './tests.ts';
import { wiresOf } from './wires.ts';

/**
 * All that the bench needs of the made looms. A cut length is the one that is bought; of what is not bought it is worked out
 * in the same way.
 */
export function benchOf(context: CheckContext, requirements: readonly Requirement[]): Bench {
  const cuts = cutsIn(requirements);
  const tests = testsOf(context);
  const looms = context.looms.map((asked): BenchLoom => ({
    loom: asked.loom.code,
    points: pointsOf(asked, context),
    branches: asked.loom.branches.map(({ id, from, to, lengthMm }) => ({ branch: id, from, to, lengthMm })),
    wires: wiresOf(asked, context, cuts),
    ...laidOf(asked, context, cuts),
    tests: tests(asked),
  }));
  return { looms, parts: partsNamed(looms, context.parts) };
}

function partsNamed(looms: readonly BenchLoom[], parts: ReadonlyMap<string, Part>): Bench['parts'] {
  const named = new Set<string | undefined>();
  for (const { points, wires, cables, coverings, fittings } of looms) {
    for (const { part } of [...points, ...cables, ...coverings, ...fittings]) named.add(part);
    for (const { ends, tracerSleeve } of wires) {
      named.add(tracerSleeve?.part);
      for (const { terminal, seal, cover, label } of ends)
        for (const part of [terminal, seal, cover, label]) named.add(part);
    }
  }
  return [...named]
    .flatMap((code) => {
      const part = code === undefined ? undefined : parts.get(code);
      return part ? [{ part: part.code, kind: part.kind, description: part.description }] : [];
    })
    .sort((a, b) => byCode(a.part, b.part));
}
