import { byCode } from '../../model/code.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Part } from '../../model/part.ts';
import { earthedGroups } from '../graph/earthed.ts';
import type { CheckContext } from './context.ts';
import { pathOf, whereOf, type PointAt, type Termination } from './terminations.ts';
import { someOf } from './words.ts';

/**
 * Blades and bullets without a cover for which the catalogue has one: one note a loom. Those in a housing or a joiner lie
 * inside it, and those on earth may touch what is earthed. What is not known to be earth is taken to be live.
 */
export function checkUncovered(context: CheckContext, points: readonly PointAt[]): Finding[] {
  const { looms, circuits } = context;
  const coverOf = coversKnown(context, points);
  if (coverOf.size === 0) return [];
  const earthed = earthedGroups(looms, circuits);
  const open = new Map<string, Termination[]>();
  for (const { point, part, terminations } of points) {
    if (point.kind === 'joiner' || part?.kind === 'housing') continue;
    for (const termination of terminations) {
      const { ends, terminal, named } = termination;
      if (terminal === undefined || !coverOf.has(terminal) || ends.some(({ end }) => end.cover)) continue;
      const live = ends.some(({ asked, wire }) => !earthed.has(circuits.of(asked.loom.code, wire.id).group));
      if (live) addTo(open, named.asked.loom.code, termination);
    }
  }
  return looms.flatMap(({ loom }) => {
    const bare = open.get(loom.code) ?? [];
    const [first] = bare;
    return first ? [note(loom.code, first, bare, coverOf)] : [];
  });
}

function note(
  loom: string,
  { named }: Termination,
  bare: readonly Termination[],
  coverOf: ReadonlyMap<string, string>,
): Finding {
  const kinds = new Map<string, number>();
  for (const { terminal = '' } of bare) kinds.set(terminal, (kinds.get(terminal) ?? 0) + 1);
  const counts = [...kinds].map(
    ([code, count]) => `${count} of ${code}, for which there is ${coverOf.get(code) ?? ''}`,
  );
  const places = bare.map(({ named: { wire, side } }) => `${wire.id} ${side}`);
  return {
    code: 'terminals-uncovered',
    severity: 'note',
    at: pointer(pathOf(named)),
    where: `${whereOf(named)}${bare.length > 1 ? `, first of ${bare.length}` : ''}`,
    subject: `loom:${loom}`,
    found: `${bare.length} live blade${bare.length === 1 ? '' : 's'} or bullet${bare.length === 1 ? '' : 's'} without a cover: ${someOf(counts)}; at ${someOf(places)}`,
    limit: 'a cover over each blade or bullet that can be live',
    source: 'common practice, no source',
    todo: 'No cover is bought for them. Name a cover at each of these ends, or accept this with a note.',
  };
}

/**
 * The blades and bullets for which a cover is known, with the first by code: by a fit that was not refuted, or since an end
 * of these looms wears it.
 */
function coversKnown({ job, parts, fits }: CheckContext, points: readonly PointAt[]): Map<string, string> {
  const known = new Map<string, string>();
  const learn = (terminal: string | undefined, cover: string | undefined) => {
    const [part, over] = [parts.get(terminal ?? ''), parts.get(cover ?? '')];
    if (!part || !over || !isOpen(part) || !isCover(over)) return;
    if (fits.status(over.code, 'covers', part.code) === 'refuted') return;
    const other = known.get(part.code);
    if (other === undefined || byCode(over.code, other) < 0) known.set(part.code, over.code);
  };
  for (const { from, relation, to } of job.fits) if (relation === 'covers') learn(to, from);
  for (const { terminations } of points)
    for (const { terminal, ends } of terminations)
      for (const { end } of ends) learn(terminal, end.cover?.part);
  return known;
}

function isOpen(part: Part): boolean {
  return part.kind === 'terminal' && (part.terminalType === 'blade' || part.terminalType === 'bullet');
}

function isCover({ kind }: Part): boolean {
  return kind === 'cover' || kind === 'boot';
}
