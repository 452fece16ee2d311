import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import type { CheckContext } from './context.ts';
import { someOf } from './words.ts';

type Branch = JobLoom['branches'][number];

/** Branches in a loop, where a wire has more than one way. */
export function checkLoops({ looms }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index, ways }): Finding[] => {
    if (!ways.loop) return [];
    return [
      {
        code: 'branches-loop',
        severity: 'note',
        at: pointer(['looms', index, 'branches']),
        where: `loom ${loom.code}, branches`,
        subject: `loom:${loom.code}`,
        found: `a loop among branches ${someOf(withoutDeadEnds(loom.branches).map(({ id }) => id))}`,
        limit: 'only one way between two points',
        source: 'common practice, no source',
        todo: 'A wire that states no way takes the shortest way. If it runs another way, state that way in via. If there is no loop, correct the branches.',
      },
    ];
  });
}

/** What is left when branches with a loose end are taken away, one after another: the loops, and what lies between loops. */
function withoutDeadEnds(branches: readonly Branch[]): Branch[] {
  const at = new Map<string, Branch[]>();
  for (const branch of branches) {
    addTo(at, branch.from, branch);
    addTo(at, branch.to, branch);
  }
  const left = new Map([...at].map(([point, meeting]) => [point, meeting.length]));
  const gone = new Set<Branch>();
  const loose = [...left].flatMap(([point, count]) => (count === 1 ? [point] : []));
  for (let point = loose.pop(); point !== undefined; point = loose.pop()) {
    const branch = at.get(point)?.find((each) => !gone.has(each));
    if (!branch) continue;
    gone.add(branch);
    const other = branch.from === point ? branch.to : branch.from;
    const count = (left.get(other) ?? 0) - 1;
    left.set(other, count);
    if (count === 1) loose.push(other);
  }
  return branches.filter((branch) => !gone.has(branch));
}
