import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import { HOLE_SOURCE, suitOneStud, widestHoleMm } from '../../trade/studs.ts';
import type { CheckContext } from './context.ts';
import { pathOf, subjectOf, whereOf, type PointAt, type Termination } from './terminations.ts';
import { figuresOf, mmText, someOf } from './words.ts';

/** A ring on a stud, whose hole is stated. */
interface Ring {
  termination: Termination;
  code: string;
  holeMm: number;
}

/**
 * Rings whose hole does not suit the stud, where its size is stated; else rings of one stud whose holes suit no stud
 * together. Rings in one way of a device are on one stud; on which of its studs a ring without a way is, is not known.
 */
export function checkRings({ parts }: CheckContext, points: readonly PointAt[]): Finding[] {
  return points.flatMap((point) => {
    const { kind, studMm } = point.point;
    const rings = point.terminations.flatMap((termination): Ring[] => {
      const part = parts.get(termination.terminal ?? '');
      return part?.kind === 'terminal' && part.terminalType === 'ring' && part.sizeMm !== undefined
        ? [{ termination, code: part.code, holeMm: part.sizeMm }]
        : [];
    });
    if (studMm !== undefined) return rings.flatMap((ring) => onStud(ring, studMm));
    if (kind === 'stud') return unlike(point, undefined, rings);
    if (kind !== 'device') return [];
    const byWay = new Map<string, Ring[]>();
    for (const ring of rings)
      if (ring.termination.way !== undefined) addTo(byWay, ring.termination.way, ring);
    return [...byWay].flatMap(([way, stacked]) => unlike(point, way, stacked));
  });
}

function onStud({ termination, code, holeMm }: Ring, studMm: number): Finding[] {
  const widest = widestHoleMm(studMm);
  const small = holeMm < studMm;
  if (!small && (widest === undefined || holeMm <= widest)) return [];
  const { named } = termination;
  const part = named.end.terminal ? ['terminal', 'part'] : [];
  return [
    {
      code: small ? 'ring-too-small' : 'ring-too-large',
      severity: small ? 'stop' : 'warning',
      at: pointer([...pathOf(named), ...part]),
      where: `${whereOf(named)}, terminal`,
      subject: subjectOf(named),
      found: `${code}, a hole of ${mmText(holeMm)} on a stud of ${mmText(studMm)}`,
      limit: small ? `a hole of at least ${mmText(studMm)}` : `a hole of at most ${mmText(widest ?? 0)}`,
      source: small ? figuresOf({ code }) : HOLE_SOURCE,
      todo: small
        ? 'It does not go on the stud. Name a ring for this stud, or correct studMm.'
        : 'It can sit off centre and has too little contact: it gets hot and comes loose. Name a ring for this stud, or correct studMm.',
    },
  ];
}

function unlike(
  { path, where, subject }: PointAt,
  way: string | undefined,
  rings: readonly Ring[],
): Finding[] {
  const sorted = [...rings].sort((a, b) => a.holeMm - b.holeMm);
  const [narrowest] = sorted;
  const widest = sorted.at(-1);
  if (!narrowest || !widest || suitOneStud(narrowest.holeMm, widest.holeMm)) return [];
  const list = sorted.map(
    ({ termination, code, holeMm }) =>
      `${code} (${mmText(holeMm)}) of wire ${termination.named.wire.id}, ${termination.named.side}`,
  );
  return [
    {
      code: 'rings-differ',
      severity: 'warning',
      at: pointer(path),
      where: way === undefined ? where : `${where}, way ${way}`,
      subject: way === undefined ? subject : `${subject}:way:${way}`,
      found: `rings with different holes on one stud: ${someOf(list)}`,
      limit: 'holes that suit one stud',
      source: HOLE_SOURCE,
      todo: `Name rings for one size of stud. State studMm at the point to see which ring is wrong.`,
    },
  ];
}
