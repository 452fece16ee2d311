import type { Section } from '../../../worker/sheets/block.ts';

/** The rows of a build sheet for its one loom, by the point at which the ends are; each without its tick box. */
export function endsOnSheet(sections: readonly Section[]): Map<string, string[][]> {
  const blocks = sections.find(({ title }) => title.startsWith('Build: '))?.blocks ?? [];
  const found = new Map<string, string[][]>();
  blocks.forEach((block, at) => {
    const point = block.form === 'text' ? /^At ([^\s,;:]+)/.exec(block.text)?.[1] : undefined;
    const next = blocks[at + 1];
    if (point === undefined || next?.form !== 'table' || found.has(point)) return;
    found.set(
      point,
      next.rows.map((row) => row.slice(1)),
    );
  });
  return found;
}

/** The circuits of a test sheet: the heading of each, and where the other probe goes with what must be then. */
export function circuitsOnSheet(sections: readonly Section[]): [head: string, rows: string[]][] {
  const blocks = sections.find(({ title }) => title.startsWith('Test: '))?.blocks ?? [];
  const all = blocks.find(({ form }) => form === 'groups');
  return all?.form === 'groups'
    ? all.groups.map(({ head, rows }) => [
        head,
        rows.map(([, place = '', wires = '', , must = '']) =>
          must === 'beep' ? `${place} (${wires})` : `${must}: ${place}`,
        ),
      ])
    : [];
}
