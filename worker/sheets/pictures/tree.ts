/** A branch between two points. */
export interface Edge {
  branch: string;
  from: string;
  to: string;
  lengthMm: number;
}

/** A branch as it is drawn: from the point nearer to the root outwards. */
export interface Twig {
  edge: Edge;
  inner: string;
  outer: string;
  /** The row on which it lies, from 0; its inner point may lie on an earlier one. */
  row: number;
  innerRow: number;
  /** No other branch goes on from its outer point. */
  isLast: boolean;
}

export interface Tree {
  root: string;
  twigs: readonly Twig[];
  rows: number;
}

/** Branches as trees, and those that close a ring, which no tree can show. */
export interface Forest {
  trees: readonly Tree[];
  rings: readonly Edge[];
}

/**
 * Lays branches out in rows: the longest way through each tree is its first row, and each further leg begins a row of its own
 * under the point that it leaves from. No two lie on one another.
 */
export function forestOf(edges: readonly Edge[]): Forest {
  const at = new Map<string, Edge[]>();
  for (const edge of edges)
    for (const point of new Set([edge.from, edge.to])) at.set(point, [...(at.get(point) ?? []), edge]);
  const drawn = new Set<Edge>();
  const seen = new Set<string>();
  const trees: Tree[] = [];
  for (const { from } of edges) {
    if (seen.has(from)) continue;
    const end = furthest(from, at);
    const tree = treeFrom(end, at, drawn);
    for (const { inner, outer } of tree.twigs) seen.add(inner).add(outer);
    seen.add(from);
    if (tree.twigs.length > 0) trees.push(tree);
  }
  return { trees, rings: edges.filter((edge) => !drawn.has(edge)) };
}

const otherEnd = ({ from, to }: Edge, point: string) => (from === point ? to : from);

type Around = ReadonlyMap<string, readonly Edge[]>;

/** The ways from a point to all others: the first that is found to each, as in a tree there is only one. */
function waysFrom(start: string, around: Around): Map<string, { mm: number; by: Edge | undefined }> {
  const ways = new Map<string, { mm: number; by: Edge | undefined }>([[start, { mm: 0, by: undefined }]]);
  const open = [start];
  for (let point = open.pop(); point !== undefined; point = open.pop()) {
    const { mm } = ways.get(point) ?? { mm: 0 };
    for (const edge of around.get(point) ?? []) {
      const next = otherEnd(edge, point);
      if (ways.has(next)) continue;
      ways.set(next, { mm: mm + edge.lengthMm, by: edge });
      open.push(next);
    }
  }
  return ways;
}

function furthest(start: string, around: Around): string {
  let best = { point: start, mm: 0 };
  for (const [point, { mm }] of waysFrom(start, around)) if (mm > best.mm) best = { point, mm };
  return best.point;
}

function treeFrom(root: string, around: Around, drawn: Set<Edge>): Tree {
  const ways = waysFrom(root, around);
  const legs = new Map<string, Edge[]>();
  for (const [point, { by }] of ways) {
    if (!by) continue;
    const inner = otherEnd(by, point);
    legs.set(inner, [...(legs.get(inner) ?? []), by]);
    drawn.add(by);
  }
  // Ways are found from the root outwards, so that reversed each leg is known before what it hangs on.
  const reach = new Map<string, number>();
  for (const [point, { by }] of [...ways].sort(([, a], [, b]) => b.mm - a.mm)) {
    const own = reach.get(point) ?? 0;
    if (by) {
      const inner = otherEnd(by, point);
      reach.set(inner, Math.max(reach.get(inner) ?? 0, own + by.lengthMm));
    }
  }
  const twigs: Twig[] = [];
  let rows = 0;
  const open: { inner: string; edge: Edge; innerRow: number; first: boolean }[] = [];
  const grow = (inner: string, row: number) => {
    const far = (edge: Edge) => edge.lengthMm + (reach.get(otherEnd(edge, inner)) ?? 0);
    const own = [...(legs.get(inner) ?? [])].sort((a, b) => far(b) - far(a));
    // The last that is pushed is drawn first: the longest goes on in the same row.
    for (let index = own.length - 1; index >= 0; index--) {
      const edge = own[index];
      if (edge) open.push({ inner, edge, innerRow: row, first: index === 0 });
    }
  };
  grow(root, 0);
  for (let next = open.pop(); next; next = open.pop()) {
    const { inner, edge, innerRow, first } = next;
    const row = first ? innerRow : ++rows;
    const outer = otherEnd(edge, inner);
    twigs.push({ edge, inner, outer, row, innerRow, isLast: !legs.has(outer) });
    grow(outer, row);
  }
  return { root, twigs, rows: rows + 1 };
}
