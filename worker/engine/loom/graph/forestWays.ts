import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import type { Between } from './shortestWays.ts';

type Branch = JobLoom['branches'][number];

/** A point of a tree: the branch towards its root, the point there, and how many branches the root is away. */
interface Rooted {
  up: Branch | undefined;
  parent: string;
  depth: number;
  root: string;
}

/** Ways where no branches make a loop: up from both points to where they meet. */
export function forestWays(branches: readonly Branch[]): Between {
  const rooted = rootAll(branches);
  return (from, to) => {
    if (from === to) return [];
    let [low, high] = [rooted.get(from), rooted.get(to)];
    if (!low || !high || low.root !== high.root) return undefined;
    const there: Branch[] = [];
    const back: Branch[] = [];
    let [here, other] = [from, to];
    while (here !== other)
      if (low.depth >= high.depth) {
        if (!low.up) return undefined;
        there.push(low.up);
        here = low.parent;
        low = rooted.get(here) ?? low;
      } else {
        if (!high.up) return undefined;
        back.push(high.up);
        other = high.parent;
        high = rooted.get(other) ?? high;
      }
    return [...there, ...back.reverse()];
  };
}

function rootAll(branches: readonly Branch[]): ReadonlyMap<string, Rooted> {
  const at = new Map<string, Branch[]>();
  for (const branch of branches) {
    addTo(at, branch.from, branch);
    addTo(at, branch.to, branch);
  }
  const rooted = new Map<string, Rooted>();
  for (const root of at.keys()) {
    if (rooted.has(root)) continue;
    rooted.set(root, { up: undefined, parent: root, depth: 0, root });
    const waiting = [root];
    for (let point = waiting.pop(); point !== undefined; point = waiting.pop())
      for (const branch of at.get(point) ?? []) {
        const next = branch.from === point ? branch.to : branch.from;
        if (rooted.has(next)) continue;
        rooted.set(next, { up: branch, parent: point, depth: (rooted.get(point)?.depth ?? 0) + 1, root });
        waiting.push(next);
      }
  }
  return rooted;
}
