import { pointer, type Finding } from '../model/finding.ts';
import type { AskedLoom } from './asked.ts';

/** Joiners that join nothing, and parts that another loom was to bring which is not in the quote. */
export function checkJoiners(looms: readonly AskedLoom[]): Finding[] {
  const codes = new Set(looms.map(({ loom }) => loom.code));
  return looms.flatMap(({ loom, index }) => {
    const used = new Set(loom.wires.flatMap((wire) => [wire.from.point, wire.to.point]));
    return loom.points.flatMap((point, pointIndex): Finding[] => {
      const path = ['looms', index, 'points', pointIndex];
      const where = `loom ${loom.code}, point ${point.id}`;
      const findings: Finding[] = [];
      if (point.kind === 'joiner' && !used.has(point.id))
        findings.push({
          code: 'joiner-unused',
          severity: 'warning',
          at: pointer(path),
          where,
          found: 'a joiner at which no wire ends',
          todo: 'It is counted all the same. Take the point out, or end a wire there.',
        });
      if (point.suppliedByLoom !== undefined && !codes.has(point.suppliedByLoom))
        findings.push({
          code: 'other-loom-not-quoted',
          severity: 'warning',
          at: pointer([...path, 'suppliedByLoom']),
          where,
          found: `supplied by loom ${point.suppliedByLoom}, which is not in this quote`,
          todo: 'Its part is not bought here. Ask for that loom too, or take suppliedByLoom out to buy the part for this one.',
        });
      return findings;
    });
  });
}
