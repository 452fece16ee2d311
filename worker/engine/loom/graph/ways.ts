import { forestWays } from './forestWays.ts';
import { shortestWays } from './shortestWays.ts';
import type { JobLoom } from '../../model/job.ts';
import { UnionFind } from './unionFind.ts';

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
  /** The way of a wire: as stated, else the shortest; `broken` where the stated one does not join its ends. */
  ofWire(wire: Routed): { way?: Way; broken?: true };
  /** Whether a way runs between these two points, either way round. */
  joins(way: Way, from: string, to: string): boolean;
}

/** What a way is asked for. */
type Routed = Pick<JobLoom['wires'][number], 'from' | 'to' | 'via'>;

export function waysOf({ branches }: Pick<JobLoom, 'branches'>): Ways {
  const byId = new Map(branches.map((branch) => [branch.id, branch]));
  const loop = hasLoop(branches);
  // Without a loop there is one way between two points at the most, and none need be compared.
  const between = loop ? shortestWays(branches) : forestWays(branches);
  const found = new Map<Routed, { way?: Way; broken?: true }>();
  const ways: Ways = {
    any: branches.length > 0,
    loop,
    shortest: (from, to) => {
      const way = between(from, to);
      return way && wayOf(way);
    },
    along: (ids) => {
      const way = ids.flatMap((id) => byId.get(id) ?? []);
      return way.length === ids.length && endsOf(way) ? wayOf(way) : undefined;
    },
    joins: ({ branches: way }, from, to) => {
      const leads = (start: string, end: string) => walked(way, start)?.[1] === end;
      return leads(from, to) || leads(to, from);
    },
    ofWire: (wire) => {
      const known = found.get(wire) ?? wayOfWire(wire, ways);
      found.set(wire, known);
      return known;
    },
  };
  return ways;
}

function wayOfWire(wire: Routed, ways: Ways): { way?: Way; broken?: true } {
  const [from, to] = [wire.from.point, wire.to.point];
  if (wire.via === undefined) {
    const way = ways.any ? ways.shortest(from, to) : undefined;
    return way ? { way } : {};
  }
  const way = ways.along(wire.via);
  return way && ways.joins(way, from, to) ? { way } : { broken: true };
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
  const sets = new UnionFind();
  const at = new Map<string, number>();
  const set = (point: string) => {
    const known = at.get(point) ?? sets.add();
    at.set(point, known);
    return known;
  };
  return branches.some(({ from, to }) => !sets.join(set(from), set(to)));
}
