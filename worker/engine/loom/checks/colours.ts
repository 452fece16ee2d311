import { colourKey, colourWords, shadesOf } from '../../model/colour.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import type { CheckContext } from './context.ts';
import { someOf } from './words.ts';
import { pathOf, whereOf, type EndAt, type PointAt } from './terminations.ts';

type PointKind = JobLoom['points'][number]['kind'];

/** Devices of which it does not matter which of two wires is put on which end. */
const EITHER_WAY: readonly string[] = ['fuseHolder', 'fuse', 'switch', 'resistor'];

/** Wires of one colour on different circuits at one point. Circuits of one stated name are one. */
export function checkColours({ circuits }: CheckContext, points: readonly PointAt[]): Finding[] {
  const groupOf = ({ asked, wire }: EndAt) => circuits.of(asked.loom.code, wire.id).group;
  return points.flatMap((point) => (cannotMatter(point) ? [] : alike(point, groupOf)));
}

/** Where one takes wires by their colour to put each in its place. A stud is one circuit, and a loose lead has no places. */
const BY_COLOUR: readonly PointKind[] = ['connector', 'device', 'joiner', 'joint', 'breakout'];

/** Whether wires at a point may be put in each other's place without harm. */
export function cannotMatter({ point, part, ends }: PointAt): boolean {
  if (ends.length < 2 || !BY_COLOUR.includes(point.kind)) return true;
  return ends.length === 2 && part?.kind === 'device' && EITHER_WAY.includes(part.deviceType);
}

function alike({ point, subject, ends }: PointAt, groupOf: (end: EndAt) => number): Finding[] {
  const byColour = new Map<string, EndAt[]>();
  for (const each of ends) addTo(byColour, colourKey(shadesOf(each.wire.colour)), each);
  return [...byColour].flatMap(([colour, same]): Finding[] => {
    const [first] = same;
    const other = first && same.find((each) => groupOf(each) !== groupOf(first));
    if (!first || !other) return [];
    const groups = new Set(same.map(groupOf)).size;
    return [
      {
        code: 'colour-on-two-circuits',
        severity: 'warning',
        at: pointer([...pathOf(other).slice(0, -1), 'colour']),
        where: `${whereOf(other)}, at point ${point.id}`,
        subject: `${subject}:colour:${colour}`,
        found: `${colourWords(shadesOf(first.wire.colour))} on ${groups} circuits at point ${point.id}: wires ${someOf(same.map(({ wire }) => wire.id))}`,
        limit: 'each colour on only one circuit at a point',
        source: 'common practice, no source',
        todo: 'These wires are easily confused. Give one of them another colour, or label both. If they are one circuit, state the same circuit at both.',
      },
    ];
  });
}
