import type { Part } from '../../model/part.ts';
import type { CheckContext } from './context.ts';
import type { EndAt, PointAt } from './terminations.ts';
import { someOf } from './words.ts';

/** A part with which wires end at a point, once for all the ends that name it. */
export interface PartAt {
  use: 'terminal' | 'seal' | 'cover';
  part: Part;
  /** The terminals on which it stands, where it is a seal or cover. */
  terminals: Set<Part>;
  first: EndAt;
  /** The first one and all others. */
  ends: EndAt[];
}

/** The terminals, seals and covers at a point, each part once, in the order in which the wires name them. */
export function partsAt({ terminations }: PointAt, parts: CheckContext['parts']): PartAt[] {
  const found = new Map<string, PartAt>();
  const add = (use: PartAt['use'], code: string | undefined, first: EndAt, on?: Part): PartAt | undefined => {
    const part = code === undefined ? undefined : parts.get(code);
    if (!part) return undefined;
    const known = found.get(`${use} ${part.code}`);
    const entry: PartAt = known ?? { use, part, terminals: new Set(), first, ends: [] };
    if (!known) found.set(`${use} ${part.code}`, entry);
    entry.ends.push(first);
    if (on) entry.terminals.add(on);
    return entry;
  };
  for (const { ends, named, terminal } of terminations) {
    const entry = add('terminal', terminal, named);
    for (const each of ends) {
      if (each !== named) entry?.ends.push(each);
      add('seal', each.end.seal?.part, each, entry?.part);
      add('cover', each.end.cover?.part, each, entry?.part);
    }
  }
  return [...found.values()];
}

/** What asOriginal names to accept what is found of a part at a point. */
export function subjectOfPart({ part, first }: PartAt): string {
  return `part:${part.code}@${first.end.point}`;
}

/** "W1, W4" */
export function wiresOf({ ends }: PartAt): string {
  return someOf(ends.map(({ wire }) => wire.id));
}
