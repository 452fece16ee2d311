import { pointer, type Finding } from '../../model/finding.ts';
import type { AskedLoom } from '../asked.ts';
import { beneathOf } from '../coverings/beneath.ts';
import { fitOf } from '../coverings/fit.ts';
import type { Laid } from '../coverings/layers.ts';
import type { CheckContext } from './context.ts';

/**
 * Coverings that what they lie over does not go through, or that hang loose on it; tape over what is not known; coverings
 * that lie over each other in a ring. One whose length is stated lies over nothing that is known, and is not checked.
 */
export function checkCoverings({ looms, coverings }: CheckContext): Finding[] {
  return looms.flatMap((asked) => {
    const inRing = ringsOf(asked);
    return coverings.of(asked.loom.code).flatMap((laid): Finding[] => {
      const at = {
        at: pointer(['looms', asked.index, 'coverings', laid.index]),
        where: `loom ${asked.loom.code}, covering ${laid.covering.id}`,
        subject: `covering:${laid.covering.id}`,
      };
      return [
        ...fitFinding(laid, asked, at),
        ...unknownBundle(laid, at),
        ...(inRing.has(laid.covering.id) ? [ring(at)] : []),
      ];
    });
  });
}

type At = Pick<Finding, 'at' | 'where'> & { subject: string };

function fitFinding(laid: Laid, { settings }: AskedLoom, at: At): Finding[] {
  const { covering, part, way, under } = laid;
  const beneath = beneathOf(covering, way, under);
  if (part?.kind !== 'sleeve' || !('thickestMm' in beneath)) return [];
  const fit = fitOf(part, beneath, settings);
  if (fit === 'fits' || fit === 'unknown' || fit.slight) return [];
  const { how, found, limit, source } = fit;
  return [
    {
      code: `covering-too-${how}`,
      severity: how === 'tight' ? 'stop' : 'warning',
      ...at,
      found: `${part.code}, ${found}`,
      limit,
      source,
      todo:
        how === 'tight'
          ? 'It does not go over the bundle. Name a wider one. Or name none: then the smallest that fits is chosen.'
          : 'It is loose or does not grip. Name a narrower one, or cover the thin branches separately.',
    },
  ];
}

/** Tape is reckoned from diameters: what is not known of them is missing from its metres. */
function unknownBundle({ part, under }: Laid, at: At): Finding[] {
  const unknown = under.filter(({ innerMm }) => innerMm === undefined);
  if (part?.kind !== 'tape' || unknown.length === 0 || under.every(({ steadyMm }) => steadyMm === 0))
    return [];
  return [
    {
      code: 'tape-over-unknown',
      severity: 'warning',
      ...at,
      found: `branches with no known diameter: ${unknown.map(({ content }) => content.branch.id).join(', ')}`,
      todo: 'The tape is calculated only from the known diameters, so it is too short. State the outside diameters of the wires and cables there.',
    },
  ];
}

function ring(at: At): Finding {
  return {
    code: 'coverings-in-a-ring',
    severity: 'warning',
    ...at,
    found: 'the covering that it names as outer lies, through other coverings, under it',
    limit: 'one covering that has no outer',
    todo: 'Remove outer from the outermost covering. Until then the layers are calculated as if one of them did not exist.',
  };
}

/** The coverings from which one comes back to where one started by going outwards. */
function ringsOf({ loom }: AskedLoom): ReadonlySet<string> {
  const outer = new Map(loom.coverings.map(({ id, outer }) => [id, outer]));
  const settled = new Set<string>();
  const rings = new Set<string>();
  for (const { id } of loom.coverings) {
    const way: string[] = [];
    const on = new Set<string>();
    let next: string | undefined = id;
    while (next !== undefined && !on.has(next) && !settled.has(next)) {
      on.add(next);
      way.push(next);
      next = outer.get(next);
    }
    if (next !== undefined && on.has(next))
      for (const member of way.slice(way.indexOf(next))) rings.add(member);
    for (const member of way) settled.add(member);
  }
  return rings;
}
