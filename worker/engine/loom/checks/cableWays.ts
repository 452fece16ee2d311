import { pointer, type Finding } from '../../model/finding.ts';
import { coresByCable } from '../graph/branches.ts';
import type { CheckContext } from './context.ts';

/** Cables whose stated way is none, or does not join the ends of their cores; cables with fewer cores than wires in them. */
export function checkCableWays({ looms, parts }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index, ways }) => {
    const cores = coresByCable(loom);
    return loom.cables.flatMap((cable, at): Finding[] => {
      const own = cores.get(cable.id) ?? [];
      const part = cable.part === undefined ? undefined : parts.get(cable.part);
      const common = { where: `loom ${loom.code}, cable ${cable.id}`, subject: `cable:${cable.id}` };
      const findings: Finding[] = [];
      const way = cable.via && ways.along(cable.via);
      const astray = cable.via
        ? own.find((core) => !way || !ways.joins(way, core.from.point, core.to.point))
        : undefined;
      if (astray)
        findings.push({
          code: 'way-broken',
          severity: 'warning',
          at: pointer(['looms', index, 'cables', at, 'via']),
          ...common,
          found: `the way ${(cable.via ?? []).join(', ')}`,
          limit: `connected branches, from ${astray.from.point} to ${astray.to.point} of its core ${astray.id}`,
          todo: 'The cable may be cut too short or too long. Correct the way, or remove it.',
        });
      if (part?.kind === 'cable' && own.length > part.cores.length)
        findings.push({
          code: 'cores-exceeded',
          severity: 'stop',
          at: pointer(['looms', index, 'cables', at, 'part']),
          ...common,
          found: `${own.length} wires in ${part.code}: ${own.map(({ id }) => id).join(', ')}`,
          limit: `${part.cores.length} cores`,
          source: 'the part',
          todo: 'Name a cable with more cores, or remove a wire from it.',
        });
      return findings;
    });
  });
}
