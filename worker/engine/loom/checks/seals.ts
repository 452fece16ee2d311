import { pointer, type Finding } from '../../model/finding.ts';
import type { CheckContext } from './context.ts';
import { figuresOf, mmText, rangeText, sideOf } from './words.ts';
import {
  pathOf,
  subjectOf,
  whereOf,
  wiresIn,
  type EndAt,
  type PointAt,
  type Termination,
} from './terminations.ts';

/** Seals that would leak, seals around two wires, and ends of a sealed housing without one. */
export function checkSeals(context: CheckContext, points: readonly PointAt[]): Finding[] {
  return points.flatMap((point) =>
    point.terminations.flatMap((termination) => {
      const sealed = termination.ends.find(({ end }) => end.seal);
      if (!sealed) return missing(point, termination);
      return termination.ends.length > 1 ? shared(termination, sealed) : range(context, sealed);
    }),
  );
}

function range({ parts, figures }: CheckContext, each: EndAt): Finding[] {
  const seal = parts.get(each.end.seal?.part ?? '');
  const diameter = figures.of(each.wire).outsideDiameterMm;
  if (seal?.kind !== 'seal' || !diameter) return [];
  const holds = { min: seal.insulationMinMm, max: seal.insulationMaxMm };
  const side = sideOf(diameter.value, holds);
  if (!side) return [];
  return [
    {
      code: 'seal-range',
      severity: 'stop',
      at: pointer([...pathOf(each), 'seal', 'part']),
      where: `${whereOf(each)}, seal`,
      subject: subjectOf(each),
      found: `${mmText(diameter.value)} over the insulation (${diameter.source}), in ${seal.code}`,
      limit: rangeText(holds, 'mm'),
      source: figuresOf(seal),
      todo:
        side === 'below'
          ? 'The seal is too wide for the wire and leaks. Name a seal whose range includes this wire.'
          : 'The seal is too narrow for the wire: it tears or leaks. Name a seal whose range includes this wire.',
    },
  ];
}

function shared(termination: Termination, each: EndAt): Finding[] {
  return [
    {
      code: 'seal-shared',
      severity: 'warning',
      at: pointer([...pathOf(each), 'seal']),
      where: `${whereOf(each)}, seal`,
      subject: subjectOf(each),
      found: `seal ${each.end.seal?.part ?? ''} on a terminal that ${wiresIn(termination)} share`,
      limit: 'one wire through one seal',
      source: 'common practice, no source',
      todo: 'Water gets in between two wires. Join them behind the connector and lead one wire through the seal.',
    },
  ];
}

function missing({ part, point }: PointAt, { named }: Termination): Finding[] {
  if (part?.kind !== 'housing' || part.sealed !== true) return [];
  return [
    {
      code: 'seal-missing',
      severity: 'warning',
      at: pointer(pathOf(named)),
      where: whereOf(named),
      subject: subjectOf(named),
      found: `no seal, in ${part.code} at point ${point.id}`,
      limit: 'a seal on every wire of a sealed housing',
      source: figuresOf(part),
      todo: 'Name the seal of this end. If the housing does not have a seal on each wire, remove sealed from the part.',
    },
  ];
}
