import { ENTRY_TYPES, nameOf, type Entry, type EntryType } from './entries.ts';

/** An entry with the line of the archive in which it stands, the first being 1. */
export interface Placed<E extends Entry = Entry> {
  line: number;
  entry: E;
}

/** Of one type: how many entries are new, the same as in the club, and otherwise there. */
export interface Share {
  type: EntryType;
  new: number;
  equal: number;
  differs: number;
}

/** What an archive brings, against what the club has. */
export interface Report {
  types: Share[];
  /** The first of those that differ. */
  differing: { line: number; entry: string }[];
}

/** Most entries that are named. */
const MOST_NAMED = 100;

export interface Tally {
  count(how: 'new' | 'equal' | 'differs', placed: Placed): void;
  report(): Report;
}

export function tally(): Tally {
  const shares = new Map(
    ENTRY_TYPES.map((type): [EntryType, Share] => [type, { type, new: 0, equal: 0, differs: 0 }]),
  );
  const differing: Report['differing'] = [];
  return {
    count(how, { line, entry }) {
      const share = shares.get(entry.type);
      if (share) share[how]++;
      if (how === 'differs' && differing.length < MOST_NAMED) differing.push({ line, entry: nameOf(entry) });
    },
    report: () => ({ types: [...shares.values()], differing }),
  };
}

export const total = ({ types }: Report, how: 'new' | 'equal' | 'differs'): number =>
  types.reduce((sum, share) => sum + share[how], 0);
