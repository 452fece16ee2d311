import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';
import { kept } from './planStore.ts';

/**
 * Two ways to go on where a block's plans are not all known: it uses a link of its cheapest plan that the next does without,
 * or it does not. Undefined where no two plans differ in their sellers.
 */
export function linkSplit(relaxation: Relaxation, node: Node): [Node, Node] | undefined {
  const { store } = relaxation;
  const { start, ids } = node.alive;
  const blocks = Array.from({ length: start.length - 1 }, (_, block) => block).sort(
    (a, b) => (node.flips[b] ?? 0) - (node.flips[a] ?? 0) || a - b,
  );
  for (const block of blocks) {
    const own = Array.from(ids.subarray(start[block], start[block + 1]));
    const linksOf = (id: number) => store.parts(id).map(([link]) => link);
    const priced = own
      .map((id) => ({ id, price: relaxation.priceOf(id) }))
      .sort((a, b) => a.price - b.price || a.id - b.id);
    const [first] = priced;
    if (!first) continue;
    for (const { id } of priced.slice(1)) {
      const others = new Set(linksOf(id));
      const link =
        linksOf(first.id).find((used) => !others.has(used)) ??
        [...others].find((used) => !linksOf(first.id).includes(used));
      if (link === undefined) continue;
      const must = node.must.slice();
      must[link] = 1;
      const banned = node.banned.slice();
      banned[link] = 1;
      const uses = (plan: number) => linksOf(plan).includes(link);
      return [
        { ...node, must, alive: kept(node.alive, (plan, at) => at !== block || uses(plan)) },
        { ...node, banned, alive: kept(node.alive, (plan, at) => at !== block || !uses(plan)) },
      ];
    }
  }
  return undefined;
}
