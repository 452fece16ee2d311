import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import { isWirePart, specKey, specOf } from '../../job/wireSpec.ts';
import type { CheckContext } from './context.ts';
import { pathOf, subjectOf, whereOf, type PointAt } from './terminations.ts';

/**
 * Terminals that somebody tried on a wire, and they did not take it. A stop where no other part of the catalogue is that
 * wire; else a warning, since the one that was tried may be bought.
 */
export function checkWiresInTerminals({ job, parts }: CheckContext, points: readonly PointAt[]): Finding[] {
  const refuted = new Map<string, string[]>();
  for (const { from, relation, to, status } of job.fits)
    if (relation === 'takes' && status === 'refuted' && parts.get(to)?.kind === 'wire')
      addTo(refuted, from, to);
  if (refuted.size === 0) return [];
  const serving = new Map<string, string[]>();
  for (const part of job.parts.filter(isWirePart)) addTo(serving, specKey(part), part.code);
  return points.flatMap(({ terminations }) =>
    terminations.flatMap(({ ends, named, ...termination }) => {
      const terminal = parts.get(termination.terminal ?? '')?.code ?? '';
      const tried = refuted.get(terminal);
      if (!tried) return [];
      return ends.flatMap((each): Finding[] => {
        const codes = serving.get(specKey(specOf(each.wire))) ?? [];
        const wrong = codes.filter((code) => tried.includes(code));
        if (wrong.length === 0) return [];
        const others = codes.length > wrong.length;
        return [
          {
            code: 'fit-refuted',
            severity: others ? 'warning' : 'stop',
            at: pointer(named === each ? [...pathOf(each), 'terminal', 'part'] : pathOf(each)),
            where: `${whereOf(each)}, terminal`,
            subject: subjectOf(each),
            found: `${terminal} on ${wrong.join(', ')}: tried and found not to fit`,
            limit: 'a terminal that takes the wire',
            source: 'the fits of the club',
            todo: others
              ? 'Name a terminal that takes every part that can be bought for this wire, or correct the fit.'
              : 'Name a terminal that takes the wire, or correct the fit.',
          },
        ];
      });
    }),
  );
}
