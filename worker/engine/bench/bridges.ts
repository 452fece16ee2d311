/** Joins two nodes; both may be one node, and several edges may join the same two. */
export interface Edge {
  from: number;
  to: number;
}

export interface Bridges {
  /** Of each edge whether nothing but it joins its two sides. */
  isBridge: readonly boolean[];
  /** Of each node the number of what hangs together: its component. */
  component: readonly number[];
  /** Of each node the number of what hangs together without the bridges. */
  block: readonly number[];
}

interface Step {
  node: number;
  /** The edge over which the node was reached; none of a start. */
  over: number | undefined;
  next: number;
}

/**
 * Bridges of a multigraph of nodes 0 … count − 1, its components, and its two-edge-connected components: Tarjan, A note on
 * finding the bridges of a graph, 1974, with a stack instead of recursion. Linear in nodes and edges.
 */
export function bridgesOf(count: number, edges: readonly Edge[]): Bridges {
  const at: number[][] = Array.from({ length: count }, () => []);
  edges.forEach(({ from, to }, edge) => {
    at[from]?.push(edge);
    if (to !== from) at[to]?.push(edge);
  });
  const order = new Array<number>(count).fill(-1);
  const low = new Array<number>(count).fill(-1);
  const component = new Array<number>(count).fill(-1);
  const isBridge = new Array<boolean>(edges.length).fill(false);
  let [reached, components] = [0, 0];
  const enter = (node: number) => {
    order[node] = low[node] = reached++;
    component[node] = components;
  };
  const lower = (node: number, to: number) => {
    low[node] = Math.min(low[node] ?? to, to);
  };
  for (let start = 0; start < count; start++) {
    if (order[start] !== -1) continue;
    enter(start);
    const stack: Step[] = [{ node: start, over: undefined, next: 0 }];
    for (let step = stack.at(-1); step; step = stack.at(-1)) {
      const edge = at[step.node]?.[step.next++];
      if (edge === undefined) {
        stack.pop();
        const before = stack.at(-1);
        if (!before || step.over === undefined) continue;
        const lowest = low[step.node] ?? 0;
        lower(before.node, lowest);
        isBridge[step.over] = lowest > (order[before.node] ?? 0);
        continue;
      }
      if (edge === step.over) continue;
      const { from, to } = edges[edge] ?? { from: step.node, to: step.node };
      const other = from === step.node ? to : from;
      if (order[other] === -1) {
        enter(other);
        stack.push({ node: other, over: edge, next: 0 });
      } else lower(step.node, order[other] ?? 0);
    }
    components++;
  }
  return { isBridge, component, block: blocksOf(count, edges, at, isBridge) };
}

function blocksOf(
  count: number,
  edges: readonly Edge[],
  at: readonly (readonly number[])[],
  isBridge: readonly boolean[],
): number[] {
  const block = new Array<number>(count).fill(-1);
  let blocks = 0;
  for (let start = 0; start < count; start++) {
    if (block[start] !== -1) continue;
    const waiting = [start];
    block[start] = blocks;
    for (let node = waiting.pop(); node !== undefined; node = waiting.pop())
      for (const edge of at[node] ?? []) {
        if (isBridge[edge] === true) continue;
        const { from, to } = edges[edge] ?? { from: node, to: node };
        const other = from === node ? to : from;
        if (block[other] !== -1) continue;
        block[other] = blocks;
        waiting.push(other);
      }
    blocks++;
  }
  return block;
}
