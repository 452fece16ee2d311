import { fitKey, type FitRelation } from '../../model/fit.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { isWirePart, specKey, specOf } from '../../job/wireSpec.ts';
import { mateOf } from '../graph/circuits.ts';
import type { CheckContext } from './context.ts';
import { partsAt, subjectOfPart } from './partsAtPoints.ts';
import { pathOf, subjectOf, whereOf, type PointAt } from './terminations.ts';

/** Two parts that go together somewhere in these looms. */
interface Pair {
  from: string;
  relation: FitRelation;
  to: string;
  place: Pick<Finding, 'at' | 'where' | 'subject'>;
}

/** Pairs of which somebody reported that they do not fit, while the fit is not refuted: each once, where it stands first. */
export function checkDoubtedFits(context: CheckContext, points: readonly PointAt[]): Finding[] {
  const { job, fits } = context;
  if (job.doubtedFits === undefined) return [];
  const pairs = [
    ...points.flatMap((point) => [...ofPoint(context, point), ...ofWires(context, point)]),
    ...ofHolders(context),
    ...ofMates(context),
  ];
  const said = new Map<string, Finding>();
  for (const { from, relation, to, place } of pairs) {
    const [one, other] = relation === 'mates' && to < from ? [to, from] : [from, to];
    const key = fitKey({ from: one, relation, to: other });
    if (said.has(key) || !fits.doubted(from, relation, to)) continue;
    said.set(key, {
      ...place,
      code: 'fit-doubted',
      severity: 'warning',
      found: `${from} with ${to}: somebody reported that they do not fit`,
      limit: 'parts that fit',
      source: 'the reports on the fits of the club',
      todo: 'Look at what was reported of this fit, then refute it or confirm it.',
    });
  }
  return [...said.values()];
}

/** The parts of which it is in doubt that they take another. */
function takersIn({ doubtedFits = [] }: CheckContext['job']): ReadonlySet<string> {
  return new Set(doubtedFits.flatMap(({ from, relation }) => (relation === 'takes' ? [from] : [])));
}

/** What stands in a holder, and on terminals. */
function ofPoint({ parts }: CheckContext, point: PointAt): Pair[] {
  const { part: holder } = point;
  return partsAt(point, parts).flatMap((at): Pair[] => {
    const { use, part, first, terminals } = at;
    const place = {
      at: pointer([...pathOf(first), use, 'part']),
      where: `${whereOf(first)}, ${use}, at point ${first.end.point}`,
      subject: subjectOfPart(at),
    };
    if (use === 'terminal')
      return holder ? [{ from: holder.code, relation: 'takes', to: part.code, place }] : [];
    const relation = use === 'seal' ? 'seals' : 'covers';
    return [...(holder ? [holder] : []), ...terminals].map(({ code: to }) => ({
      from: part.code,
      relation,
      to,
      place,
    }));
  });
}

/** A terminal on each part that can be bought for its wire. */
function ofWires({ job }: CheckContext, { terminations }: PointAt): Pair[] {
  const doubted = takersIn(job);
  const wires = job.parts.filter(isWirePart);
  return terminations.flatMap(({ ends, terminal: from }) =>
    from === undefined || !doubted.has(from)
      ? []
      : ends.flatMap((each) => {
          const spec = specKey(specOf(each.wire));
          const place = { at: pointer(pathOf(each)), where: whereOf(each), subject: subjectOf(each) };
          return wires
            .filter((part) => specKey(part) === spec)
            .map(({ code: to }) => ({ from, relation: 'takes' as const, to, place }));
        }),
  );
}

/** Devices and what a loom lists that may go into them, as fuses into their holder. */
function ofHolders({ job, looms }: CheckContext): Pair[] {
  const doubted = takersIn(job);
  return looms.flatMap(({ loom, index }) =>
    loom.points.flatMap(({ id, part: from }, at) =>
      from === undefined || !doubted.has(from)
        ? []
        : loom.parts.map(({ part: to }) => ({
            from,
            relation: 'takes' as const,
            to,
            place: {
              at: pointer(['looms', index, 'points', at, 'part']),
              where: `loom ${loom.code}, point ${id}`,
              subject: `point:${id}`,
            },
          })),
    ),
  );
}

/** Halves that are plugged together. */
function ofMates({ looms }: CheckContext): Pair[] {
  const points = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  return looms.flatMap(({ loom, index }) =>
    loom.points.flatMap((point, at): Pair[] => {
      const to = mateOf(loom.code, point, points)?.point.part;
      if (point.part === undefined || to === undefined) return [];
      const place = {
        at: pointer(['looms', index, 'points', at, 'matedTo']),
        where: `loom ${loom.code}, point ${point.id}`,
        subject: `point:${point.id}`,
      };
      return [{ from: point.part, relation: 'mates', to, place }];
    }),
  );
}
