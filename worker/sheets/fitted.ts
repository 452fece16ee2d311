import { list, totalled, type Block, type Column } from './block.ts';
import { blocksText } from './blockText.ts';

/** A piece of a page that may be cut short: so many of its items are shown, and how many more there are is said. */
export interface Part {
  title?: string;
  /** Sentences of a list, or the rows of a table under its columns. */
  items: readonly string[] | readonly (readonly string[])[];
  columns?: readonly Column[];
  /** A last row that always stands. */
  last?: readonly string[];
  /** So many of its items stay while other parts can still be cut. */
  least: number;
  /** "see Order lists": where all of them are. */
  where: string;
}

/** A part with no more than so many of its items. */
function shown({ title, items, columns, last, where }: Part, count: number): Block[] {
  if (items.length === 0) return [];
  const kept = items.slice(0, count);
  const more = items.length - kept.length;
  const rest = more === 0 ? [] : [`and ${more} more, ${where}`];
  const body = columns
    ? totalled(columns, [
        ...(kept as string[][]),
        ...rest.map((words) => columns.map((_, at) => (at === 0 ? words : ''))),
        ...(last ? [last] : []),
      ])
    : list([...(kept as string[]), ...rest]);
  return [...(title === undefined ? [] : ([{ form: 'head', text: title }] as const)), ...body];
}

/** How many lines of text a part takes at most with no more than so many of its items. */
function measured(part: Part): (count: number) => number {
  const { title, items, columns } = part;
  const linesOf = (blocks: readonly Block[]) =>
    blocks.length === 0 ? 0 : blocksText(blocks).split('\n').length;
  if (columns) {
    // Each row that is left out takes a line at least, and its columns grow no wider for it.
    const all = linesOf(shown(part, items.length));
    return (count) => all - (items.length - count) + (count < items.length ? 1 : 0);
  }
  const heights = items.map((item) => linesOf(list([String(item)])));
  return (count) => {
    if (items.length === 0) return 0;
    const own = heights.slice(0, count).reduce((sum, height) => sum + height, 0);
    return (title === undefined ? 0 : 1) + own + (count < items.length ? 1 : 0);
  };
}

/**
 * The parts one after another, within so many lines of text: while they take more, the part that takes the most lines shows
 * one item fewer, of those that show more than their least; then the last one that shows more than one.
 */
export function fitted(parts: readonly Part[], most: number): Block[] {
  const counts = parts.map(({ items }) => Math.min(items.length, most));
  const sizeOf = parts.map(measured);
  const sizes = counts.map((count, at) => sizeOf[at]?.(count) ?? 0);
  const total = () => sizes.reduce((sum, size) => sum + (size === 0 ? 0 : size + 1), -1);
  const longestOf = (mayShrink: (at: number) => boolean): number | undefined =>
    parts
      .map((_, at) => at)
      .filter(mayShrink)
      .sort((a, b) => (sizes[b] ?? 0) - (sizes[a] ?? 0) || b - a)[0];
  while (total() > most) {
    const longest =
      longestOf((at) => (counts[at] ?? 0) > Math.max(1, parts[at]?.least ?? 1)) ??
      counts.findLastIndex((count) => count > 1);
    if (longest < 0) break;
    counts[longest] = (counts[longest] ?? 0) - 1;
    sizes[longest] = sizeOf[longest]?.(counts[longest] ?? 0) ?? 0;
  }
  return parts.flatMap((part, at) => shown(part, counts[at] ?? 0));
}
