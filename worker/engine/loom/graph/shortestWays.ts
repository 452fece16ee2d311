import TinyQueue from 'tinyqueue';
import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';

type Branch = JobLoom['branches'][number];

/** Finds the branches of the shortest way between two points, in order; undefined where none join them. */
export type Between = (from: string, to: string) => readonly Branch[] | undefined;

/** How a point is reached: over which branch, from which point, how far from the start. */
interface Reached {
  lengthMm: number;
  branch: Branch | undefined;
  from: string;
}

type Tree = ReadonlyMap<string, Reached>;

/** Ways where branches make loops. */
export function shortestWays(branches: readonly Branch[]): Between {
  const at = new Map<string, Branch[]>();
  for (const branch of branches) {
    addTo(at, branch.from, branch);
    addTo(at, branch.to, branch);
  }
  const trees = new Map<string, Tree>();
  return (from, to) => {
    const tree = trees.get(from) ?? shortestFrom(from, at);
    trees.set(from, tree);
    return wayBack(tree, from, to);
  };
}

/** Dijkstra's shortest paths from one point; of equal ways the one first found, which is by the branches' order. */
function shortestFrom(start: string, at: ReadonlyMap<string, readonly Branch[]>): Tree {
  const tree = new Map<string, Reached>([[start, { lengthMm: 0, branch: undefined, from: start }]]);
  const queue = new TinyQueue<{ point: string; lengthMm: number; order: number }>(
    [{ point: start, lengthMm: 0, order: 0 }],
    (a, b) => a.lengthMm - b.lengthMm || a.order - b.order,
  );
  let order = 0;
  for (let next = queue.pop(); next; next = queue.pop()) {
    if (next.lengthMm > (tree.get(next.point)?.lengthMm ?? Infinity)) continue;
    for (const branch of at.get(next.point) ?? []) {
      const point = branch.from === next.point ? branch.to : branch.from;
      const lengthMm = next.lengthMm + branch.lengthMm;
      if (lengthMm >= (tree.get(point)?.lengthMm ?? Infinity)) continue;
      tree.set(point, { lengthMm, branch, from: next.point });
      queue.push({ point, lengthMm, order: ++order });
    }
  }
  return tree;
}

function wayBack(tree: Tree, from: string, to: string): Branch[] | undefined {
  const branches: Branch[] = [];
  for (let point = to; point !== from;) {
    const reached = tree.get(point);
    if (!reached?.branch) return undefined;
    branches.push(reached.branch);
    point = reached.from;
  }
  return branches.reverse();
}
