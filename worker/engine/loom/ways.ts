import TinyQueue from 'tinyqueue';
import { addTo } from '../model/group.ts';
import type { JobLoom } from '../model/job.ts';

type Branch = JobLoom['branches'][number];

/** A way along branches, in order. */
export interface Way {
  branches: readonly Branch[];
  lengthMm: number;
}

/** The ways along a loom's branches. */
export interface Ways {
  /** Whether the loom has any branches. */
  any: boolean;
  /** Whether some branches make a loop, so that there may be two ways. */
  loop: boolean;
  /** The shortest way between two points; undefined where no branches join them. */
  shortest(from: string, to: string): Way | undefined;
  /** These branches one after the other; undefined where one does not go on from the one before it. */
  along(ids: readonly string[]): Way | undefined;
  /** Whether a way runs between these two points, either way round. */
  joins(way: Way, from: string, to: string): boolean;
}

export function waysOf({ branches }: Pick<JobLoom, 'branches'>): Ways {
  const byId = new Map(branches.map((branch) => [branch.id, branch]));
  const at = new Map<string, Branch[]>();
  for (const branch of branches) {
    addTo(at, branch.from, branch);
    addTo(at, branch.to, branch);
  }
  const reached = new Map<string, Map<string, Reached>>();
  return {
    any: branches.length > 0,
    loop: hasLoop(branches),
    shortest: (from, to) => {
      const tree = reached.get(from) ?? shortestFrom(from, at);
      reached.set(from, tree);
      return wayBack(tree, from, to);
    },
    along: (ids) => {
      const way = ids.flatMap((id) => byId.get(id) ?? []);
      return way.length === ids.length && endsOf(way) ? wayOf(way) : undefined;
    },
    joins: ({ branches: way }, from, to) => {
      const ends = endsOf(way);
      return (
        ends !== undefined && ((ends[0] === from && ends[1] === to) || (ends[0] === to && ends[1] === from))
      );
    },
  };
}

/** How a point is reached: over which branch, from which point, how far from the start. */
interface Reached {
  lengthMm: number;
  branch: Branch | undefined;
  from: string;
}

/** Dijkstra's shortest paths from one point; of equal ways the one first found, which is by the branches' order. */
function shortestFrom(start: string, at: ReadonlyMap<string, readonly Branch[]>): Map<string, Reached> {
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

function wayBack(tree: ReadonlyMap<string, Reached>, from: string, to: string): Way | undefined {
  const branches: Branch[] = [];
  for (let point = to; point !== from;) {
    const reached = tree.get(point);
    if (!reached?.branch) return undefined;
    branches.unshift(reached.branch);
    point = reached.from;
  }
  return wayOf(branches);
}

function wayOf(branches: readonly Branch[]): Way {
  return { branches, lengthMm: branches.reduce((sum, { lengthMm }) => sum + lengthMm, 0) };
}

/** The two ends of branches that go on from each other; undefined where they do not. */
function endsOf(branches: readonly Branch[]): [string, string] | undefined {
  const [first] = branches;
  if (!first) return undefined;
  return walked(branches, first.from) ?? walked(branches, first.to);
}

function walked(branches: readonly Branch[], start: string): [string, string] | undefined {
  let point = start;
  for (const branch of branches) {
    if (branch.from === point) point = branch.to;
    else if (branch.to === point) point = branch.from;
    else return undefined;
  }
  return [start, point];
}

/** Whether some branch joins two points that others join already. */
function hasLoop(branches: readonly Branch[]): boolean {
  const leader = new Map<string, string>();
  const find = (point: string): string => {
    let root = point;
    for (let up = leader.get(root); up !== undefined; up = leader.get(root)) root = up;
    // The way up is shortened for the next that asks.
    for (let low = point; low !== root;) {
      const up = leader.get(low) ?? root;
      leader.set(low, root);
      low = up;
    }
    return root;
  };
  return branches.some(({ from, to }) => {
    const [a, b] = [find(from), find(to)];
    if (a === b) return true;
    leader.set(a, b);
    return false;
  });
}
