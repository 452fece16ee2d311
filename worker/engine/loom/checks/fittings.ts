import { pointer, type Finding } from '../../model/finding.ts';
import { mm } from '../coverings/fit.ts';
import type { CheckContext } from './context.ts';

/** Kinds of fitting that a branch goes through whole; a label or a tie goes round what it is drawn to. */
const GONE_THROUGH = ['grommet', 'clip'];

/** Fittings beyond the end of their branch. */
export function checkFittingPlaces({ looms }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index }) => {
    const lengths = new Map(loom.branches.map(({ id, lengthMm }) => [id, lengthMm]));
    return loom.fittings.flatMap((fitting, at): Finding[] => {
      const lengthMm = lengths.get(fitting.branch ?? '');
      if (lengthMm === undefined || fitting.atMm === undefined || fitting.atMm <= lengthMm) return [];
      return [
        {
          code: 'fitting-beyond-branch',
          severity: 'warning',
          at: pointer(['looms', index, 'fittings', at, 'atMm']),
          where: `loom ${loom.code}, fitting on branch ${fitting.branch}`,
          subject: `fitting:${fitting.part}@${fitting.branch}`,
          found: `${fitting.part} at ${fitting.atMm} mm`,
          limit: `at most ${lengthMm} mm, the branch’s length`,
          todo: 'Measure from the branch’s first point, name the next branch, or correct the branch.',
        },
      ];
    });
  });
}

/** Fittings on a branch whose bore is under what goes through them. Loose ones are not told: rubber and lips close on it. */
export function checkFittings({ looms, branches, parts }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index }) => {
    const covered = new Map(branches.of(loom.code).map(({ branch, coveredMm }) => [branch.id, coveredMm]));
    return loom.fittings.flatMap((fitting, at): Finding[] => {
      const part = parts.get(fitting.part);
      const overMm = fitting.branch === undefined ? undefined : covered.get(fitting.branch);
      if (part?.kind !== 'fitting' || !GONE_THROUGH.includes(part.fittingType)) return [];
      if (part.boreMm === undefined || overMm === undefined || part.boreMm >= overMm) return [];
      return [
        {
          code: 'fitting-too-small',
          severity: 'warning',
          at: pointer(['looms', index, 'fittings', at, 'part']),
          where: `loom ${loom.code}, fitting on branch ${fitting.branch}`,
          subject: `fitting:${part.code}@${fitting.branch}`,
          found: `${part.code}, a bore of ${part.boreMm} mm over ${mm(overMm)}`,
          limit: `a bore of at least ${mm(overMm)}: the bundle with its coverings`,
          source: 'common practice, no source',
          todo: 'Name a wider one, or correct the bore of this one.',
        },
      ];
    });
  });
}
