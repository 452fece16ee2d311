import { pointer, type Finding } from '../../model/finding.ts';
import type { JobLoom } from '../../model/job.ts';
import type { CheckContext } from './context.ts';
import type { PointAt } from './terminations.ts';

type Point = JobLoom['points'][number];

/** Joiners that join nothing, and parts that another loom was to bring which does not bring them. */
export function checkJoiners({ looms }: CheckContext, points: readonly PointAt[]): Finding[] {
  return [...points.flatMap(unused), ...notBrought(looms)];
}

function unused({ point, path, where, subject, ends }: PointAt): Finding[] {
  if (point.kind !== 'joiner' || ends.length > 0) return [];
  return [
    {
      code: 'joiner-unused',
      severity: 'warning',
      at: pointer(path),
      where,
      subject,
      found: 'a joiner at which no wire ends',
      todo: 'It is still counted and bought. Remove the point, or let a wire end there.',
    },
  ];
}

function notBrought(looms: CheckContext['looms']): Finding[] {
  const there = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  return looms.flatMap(({ loom, index, unclear }) =>
    loom.points.flatMap((point, pointIndex): Finding[] => {
      const other = point.suppliedByLoom;
      if (other === undefined || other === loom.code) return [];
      const place = {
        severity: 'warning' as const,
        at: pointer(['looms', index, 'points', pointIndex, 'suppliedByLoom']),
        where: `loom ${loom.code}, point ${point.id}`,
        subject: `point:${point.id}`,
      };
      // Where it is not clear which, each of them must bring it.
      const others = unclear.find(({ name }) => name === other)?.others ?? [other];
      if (others.every((name) => !there.has(name)))
        return [
          {
            ...place,
            code: 'other-loom-not-quoted',
            found: `supplied by loom ${other}, which is not in this quote`,
            todo: 'Its part is not bought here. Add that loom to the request, or remove suppliedByLoom to buy the part for this loom.',
          },
        ];
      return others.flatMap((other) => {
        const why = whyNot(point, other, there.get(other)?.get(point.id));
        if (why === undefined) return [];
        return [
          {
            ...place,
            code: 'other-loom-without-part',
            found: `${point.part ?? ''} supplied by loom ${other}, ${why}`,
            limit: `point ${point.id} of loom ${other} with ${point.part ?? ''}`,
            todo: 'Nothing is bought for this. State the same part at that loom’s point, choose the options with which the point exists, or remove suppliedByLoom to buy the part for this loom.',
          },
        ];
      });
    }),
  );
}

/** Why the other loom does not bring the part of a point; undefined where it does, or there is none to bring. */
function whyNot(own: Point, other: string, its: Point | undefined): string | undefined {
  if (own.part === undefined) return undefined;
  if (!its) return 'which has no such point with the options chosen';
  if (its.suppliedByLoom !== undefined && its.suppliedByLoom !== other)
    return `which says that loom ${its.suppliedByLoom} supplies it`;
  if (its.part === own.part) return undefined;
  return its.part === undefined ? 'which names no part there' : `which has ${its.part} there`;
}
