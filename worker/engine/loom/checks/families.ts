import { pointer, type Finding } from '../../model/finding.ts';
import type { FitRelation, FitStatus } from '../../model/fit.ts';
import type { Part } from '../../model/part.ts';
import type { Fits } from '../../job/fits.ts';
import type { CheckContext } from './context.ts';
import { partsAt, subjectOfPart, wiresOf, type PartAt } from './partsAtPoints.ts';
import { pathOf, whereOf, type PointAt } from './terminations.ts';

/** Parts that do not belong to the housing in which they stand, by family, by gender, or since somebody tried. */
export function checkFamilies({ parts, fits }: CheckContext, points: readonly PointAt[]): Finding[] {
  return points.flatMap((point) =>
    partsAt(point, parts).flatMap((at) => {
      const { part } = point;
      return [...familyFindings(at, part, fits), ...contactFindings(at, part)];
    }),
  );
}

/** What is known of the part and what it stands in or on: refuted weighs most, then confirmed. */
function knownFit({ use, part, terminals }: PartAt, holder: Part | undefined, fits: Fits) {
  const known: { status: FitStatus; other: string }[] = [];
  const ask = (from: string, relation: FitRelation, to: string, other: string) => {
    const status = fits.status(from, relation, to);
    if (status) known.push({ status, other });
  };
  if (use === 'terminal') {
    if (holder) ask(holder.code, 'takes', part.code, holder.code);
  } else
    for (const on of holder ? [holder, ...terminals] : terminals)
      ask(part.code, use === 'seal' ? 'seals' : 'covers', on.code, on.code);
  const of = (status: FitStatus) => known.find((each) => each.status === status);
  return of('refuted') ?? of('confirmed') ?? of('proposed');
}

function familyFindings(at: PartAt, holder: Part | undefined, fits: Fits): Finding[] {
  const { use, part } = at;
  const known = knownFit(at, holder, fits);
  if (known?.status === 'refuted')
    return [
      {
        ...placeOf(at),
        code: 'fit-refuted',
        severity: 'stop',
        found: `${part.code} (${part.description}) with ${known.other}, of wires ${wiresOf(at)}: tried and found not to fit`,
        limit: 'parts that fit',
        source: 'the fits of the club',
        todo: `Name a ${use} that fits, or correct the fit.`,
      },
    ];
  const foreign =
    holder?.kind === 'housing' &&
    holder.family !== undefined &&
    part.family !== undefined &&
    holder.family !== part.family;
  if (foreign && known?.status !== 'confirmed')
    return [
      {
        ...placeOf(at),
        code: 'not-of-family',
        severity: 'stop',
        found: `${part.code} (${part.description}) of family ${part.family ?? ''}, of wires ${wiresOf(at)}${known ? '; thought to fit, not tried' : ''}`,
        limit: `family ${holder.family ?? ''}, as ${holder.code}`,
        source: 'the catalogue’s families',
        todo: `Name the ${use} of the housing’s own family. If you tried this one and it fits, confirm the fit.`,
      },
    ];
  if (known?.status !== 'proposed') return [];
  return [
    {
      ...placeOf(at),
      code: 'fit-not-confirmed',
      severity: 'note',
      found: `${part.code} with ${known.other}, of wires ${wiresOf(at)}: thought to fit, not tried`,
      todo: 'Try one before you buy many, then confirm or refute the fit.',
    },
  ];
}

function contactFindings(at: PartAt, holder: Part | undefined): Finding[] {
  const { part } = at;
  if (holder?.kind !== 'housing' || part.kind !== 'terminal' || at.use !== 'terminal') return [];
  const { contactGender } = holder;
  if (!isGender(contactGender) || !isGender(part.gender) || contactGender === part.gender) return [];
  return [
    {
      ...placeOf(at),
      code: 'contact-gender',
      severity: 'stop',
      found: `${part.code} (${part.description}), ${part.gender}, of wires ${wiresOf(at)}`,
      limit: `${contactGender} contacts, as ${holder.code} (${holder.description}) holds`,
      source: 'the catalogue’s figures of both parts',
      todo: 'Name the other half of the connector, or the contacts that belong in this half.',
    },
  ];
}

function isGender(gender: string | undefined): gender is 'male' | 'female' {
  return gender === 'male' || gender === 'female';
}

function placeOf(at: PartAt): Pick<Finding, 'at' | 'where' | 'subject'> {
  const { use, first } = at;
  return {
    at: pointer([...pathOf(first), use, 'part']),
    where: `${whereOf(first)}, ${use}, at point ${first.end.point}`,
    subject: subjectOfPart(at),
  };
}
