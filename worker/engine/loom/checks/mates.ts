import { pointer, type Finding } from '../../model/finding.ts';
import type { JobLoom } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import { mateOf } from '../graph/circuits.ts';
import type { Fits } from '../../job/fits.ts';
import type { CheckContext } from './context.ts';

type Housing = Extract<Part, { kind: 'housing' }>;
type Point = JobLoom['points'][number];

/** Halves that do not go together, that are not there, or that nobody has tried together yet. */
export function checkMates({ looms, parts, fits }: CheckContext): Finding[] {
  const points = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  const done = new Set<string>();
  const partners = new Map<string, Set<string>>();
  return looms.flatMap(({ loom, index, unclear }) =>
    loom.points.flatMap((point, pointIndex): Finding[] => {
      if (!point.matedTo) return [];
      const at = pointer(['looms', index, 'points', pointIndex, 'matedTo']);
      const place = { at, where: `loom ${loom.code}, point ${point.id}`, subject: `point:${point.id}` };
      const { matedTo } = point;
      const several = unclear.find(({ name }) => name === matedTo.loom);
      // Which of them it is, is asked elsewhere; it must go together with each.
      if (several) return withEach(place, point, several.others, points, parts, fits);
      const mate = mateOf(loom.code, point, points);
      if (!mate) return [notThere(place, matedTo, points.has(matedTo.loom ?? loom.code))];
      // Stated at both halves, it is told at the first.
      const pair = [`${loom.code}/${point.id}`, `${mate.loom}/${mate.point.id}`].sort().join(' ');
      if (done.has(pair)) return [];
      done.add(pair);
      const here = parts.get(point.part ?? '');
      const there = parts.get(mate.point.part ?? '');
      return [
        ...pluggedTwice(place, half(loom.code, point), half(mate.loom, mate.point), partners),
        ...(here && there ? together(place, here, there, fits) : []),
      ];
    }),
  );
}

function withEach(
  place: Place,
  { part, matedTo }: Point,
  others: readonly string[],
  points: ReadonlyMap<string, ReadonlyMap<string, Point>>,
  parts: ReadonlyMap<string, Part>,
  fits: Fits,
): Finding[] {
  const here = parts.get(part ?? '');
  const codes = new Set(others.flatMap((loom) => points.get(loom)?.get(matedTo?.point ?? '')?.part ?? []));
  return [...codes].flatMap((code) => {
    const there = parts.get(code);
    return here && there ? together(place, here, there, fits) : [];
  });
}

type Place = Pick<Finding, 'at' | 'where' | 'subject'>;

/** A half by the loom that brings it, so that it is one where two looms meet at it. */
function half(loom: string, point: Point) {
  return { ...point, name: `${point.suppliedByLoom ?? loom}/${point.id}` };
}
type Half = ReturnType<typeof half>;

/** A connector goes into one other half; into a device several may go. */
function pluggedTwice(place: Place, here: Half, there: Half, partners: Map<string, Set<string>>): Finding[] {
  for (const [one, other] of [
    [here, there],
    [there, here],
  ] as const)
    partners.set(one.name, (partners.get(one.name) ?? new Set()).add(other.name));
  const twice = [here, there].find(
    ({ kind, name }) => kind === 'connector' && (partners.get(name)?.size ?? 0) > 1,
  );
  if (!twice) return [];
  return [
    {
      ...place,
      code: 'plugged-twice',
      severity: 'warning',
      found: `point ${twice.name} is plugged into ${[...(partners.get(twice.name) ?? [])].join(' and ')}`,
      limit: 'one other half',
      todo: 'Their circuits are treated as one. Correct matedTo at one of them.',
    },
  ];
}

function notThere(place: Place, { loom, point }: { loom?: string | undefined; point: string }, has: boolean) {
  const half = `plugged into point ${point} of loom ${loom ?? ''}`;
  return has
    ? ({
        ...place,
        code: 'mate-without-point',
        severity: 'warning',
        found: `${half}, which has no such point with the options chosen`,
        todo: 'Correct matedTo, or choose the options with which that half exists.',
      } as const)
    : ({
        ...place,
        code: 'mate-not-quoted',
        severity: 'note',
        found: `${half}, which is not in this quote`,
        todo: 'It is not checked whether the halves go together, and circuits end here. Add that loom to the request to check both.',
      } as const);
}

function together(place: Place, here: Part, there: Part, fits: Fits): Finding[] {
  const status = fits.status(here.code, 'mates', there.code);
  const reasons = [
    ...(status === 'refuted' ? ['tried and found not to fit'] : []),
    ...(here.kind === 'housing' && there.kind === 'housing'
      ? [...(status === 'confirmed' ? [] : notListed(here, there)), ...unlike(here, there)]
      : []),
  ];
  const pair = `${here.code} (${here.description}) against ${there.code} (${there.description})`;
  if (reasons.length > 0)
    return [
      {
        ...place,
        code: 'does-not-mate',
        severity: 'stop',
        found: `${pair}: ${reasons.join('; ')}`,
        limit: 'a plug and a socket, male and female contacts, the same number of ways, of parts that mate',
        source: `the catalogue’s figures of both parts, and the fits of the club`,
        todo: 'Name the half that mates with the other one. If they do go together, correct the parts or confirm the fit.',
      },
    ];
  if (status !== 'proposed') return [];
  return [
    {
      ...place,
      code: 'fit-not-confirmed',
      severity: 'note',
      found: `${pair}: thought to mate, not tried`,
      todo: 'Try the two together before you buy many, then confirm or refute the fit.',
    },
  ];
}

function notListed(here: Housing, there: Housing): string[] {
  const lists = [here.mates ?? [], there.mates ?? []];
  if (lists.every((list) => list.length === 0)) return [];
  const listed = here.mates?.includes(there.code) === true || there.mates?.includes(here.code) === true;
  return listed ? [] : ['neither names the other among its mates'];
}

/** The housing and the contacts in it have genders of their own: a plug may hold male or female contacts. */
function unlike(here: Housing, there: Housing): string[] {
  const reasons: string[] = [];
  if (same(here.housingGender, there.housingGender))
    reasons.push(`both housings are ${here.housingGender ?? ''}s`);
  if (same(here.contactGender, there.contactGender))
    reasons.push(`both hold ${here.contactGender ?? ''} contacts`);
  if (here.ways !== there.ways) reasons.push(`${here.ways} ways against ${there.ways}`);
  return reasons;
}

function same(one: string | undefined, other: string | undefined): boolean {
  return one !== undefined && one !== 'none' && one === other;
}
