import type { JobLoom } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import { coresByCable, wayOfCable } from '../graph/branches.ts';
import { cutLength } from './cutLength.ts';
import type { LengthPiece } from './lengthPiece.ts';
import { wayStep } from './wireLength.ts';

type Cable = JobLoom['cables'][number];
type Core = JobLoom['wires'][number];

/** The cables of a loom as pieces to be cut, in its order. */
export function cablePieces(asked: AskedLoom, parts: ReadonlyMap<string, Part>): LengthPiece[] {
  const cores = coresByCable(asked.loom);
  return asked.loom.cables.map((cable, index): LengthPiece => {
    const own = cores.get(cable.id) ?? [];
    return {
      part: cable.part === undefined ? undefined : parts.get(cable.part),
      what: `cable ${cable.id}`,
      subject: `cable:${cable.id}`,
      supply: cable.supply,
      cut: cableCut(cable, own, asked),
      cores: own.map(({ id }) => id),
      path: ['cables', index],
    };
  });
}

/**
 * A cable is cut as a wire is; its cores state their strips, the cable itself has none, so the settings hold. Without a
 * stated length it follows its way, else the shortest way between the ends of its first core.
 */
function cableCut(cable: Cable, cores: readonly Core[], { ways, settings }: AskedLoom): LengthPiece['cut'] {
  const way = cable.length ? undefined : wayOfCable(cable, cores, ways);
  const measured =
    cable.length ?? (way && way.lengthMm > 0 ? { mm: way.lengthMm, basis: 'route' as const } : undefined);
  if (!measured) return undefined;
  const { cutMm, step } = cutLength(measured, [settings, settings], settings);
  return { cutMm, steps: way ? [wayStep(way, ways.loop && cable.via === undefined), step] : [step] };
}
