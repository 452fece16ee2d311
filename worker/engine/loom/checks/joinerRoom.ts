import { pointer, type Finding } from '../../model/finding.ts';
import { D } from '../../units/decimal.ts';
import type { CheckContext } from './context.ts';
import { partsAt, subjectOfPart, wiresOf } from './partsAtPoints.ts';
import { figuresOf } from './words.ts';
import { pathOf, whereOf, type PointAt } from './terminations.ts';

/** Bullets of 3/16 inch are sold as 4.7, 4.75 and 4.76 mm: common practice, no source. */
const SAME_SIZE_MM = new D('0.1');

/** Joiners with more in them than they have room for, and bullets of another size than theirs. */
export function checkJoinerRoom({ parts }: CheckContext, points: readonly PointAt[]): Finding[] {
  return points.flatMap((at): Finding[] => {
    const { part: joiner, path, where, subject, terminations } = at;
    if (joiner?.kind !== 'joiner') return [];
    const findings: Finding[] = [];
    if (terminations.length > joiner.positions)
      findings.push({
        code: 'joiner-full',
        severity: 'stop',
        at: pointer([...path, 'part']),
        where,
        subject,
        found: `${terminations.length} ends in ${joiner.code} (${joiner.description})`,
        limit: `${joiner.positions} position${joiner.positions === 1 ? '' : 's'}`,
        source: figuresOf(joiner),
        todo: 'Name a joiner with more positions, add another one, or let two wires share a bullet.',
      });
    for (const each of partsAt(at, parts)) {
      const { use, part: bullet, first } = each;
      if (use !== 'terminal' || bullet.kind !== 'terminal' || bullet.terminalType !== 'bullet') continue;
      if (bullet.sizeMm === undefined || joiner.sizeMm === undefined) continue;
      if (new D(bullet.sizeMm).sub(joiner.sizeMm).abs().lte(SAME_SIZE_MM)) continue;
      findings.push({
        code: 'size-differs',
        severity: 'stop',
        at: pointer([...pathOf(first), 'terminal', 'part']),
        where: `${whereOf(first)}, terminal, at point ${first.end.point}`,
        subject: subjectOfPart(each),
        found: `${bullet.code}, ${bullet.sizeMm} mm, of wires ${wiresOf(each)}`,
        limit: `${joiner.sizeMm} mm, as ${joiner.code}, with a difference of at most ${SAME_SIZE_MM.toFixed()} mm`,
        source: `${figuresOf(joiner)}; common practice, no source`,
        todo: 'Name bullets and a joiner of the same size.',
      });
    }
    return findings;
  });
}
