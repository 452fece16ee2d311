/** The two ways of a holder that one fuse joins; `before` is the one that the feed comes to, where the names say so. */
export interface Pair {
  ways: readonly [string, string];
  before?: string;
}

interface Role {
  stem: string;
  role: 'in' | 'out';
}

const IN = 'in|input|feed|supply|line|bat|battery';
const OUT = 'out|output|load';
const FIRST = new RegExp(`^(${IN}|${OUT})[-_ .]?(.*)$`);
const LAST = new RegExp(`^(.*?)[-_ .]?(${IN}|${OUT})$`);
const IS_IN = new RegExp(`^(${IN})$`);
/** Markings of a feed that stand by themselves: DIN 72552 has 30 for the battery. */
const FEEDS = ['30', 'b+', '+'];

/**
 * Which ways of a fuse holder one fuse joins, by rules in this order: a holder of two ways has one fuse; "in" and "out" (or
 * feed and load) of one name or number; 1 and 1a, or 1a and 1b; one feed that all others share; and where no name says
 * anything, the pins as they are stated, two by two. What no rule pairs is in no pair.
 */
export function pairWays(pins: readonly string[], used: readonly string[]): Pair[] {
  const names = [...new Set([...pins, ...used])];
  const [one, other] = names;
  if (one === undefined) return [];
  if (other !== undefined && names.length === 2) return [paired(one, other)];
  const named = [...byRole(names), ...byLetter(names)];
  if (named.length > 0) return named;
  const shared = sharedFeed(names);
  if (shared.length > 0) return shared;
  const inOrder = pins.length === names.length && pins.length % 2 === 0;
  return inOrder ? twoByTwo(names) : [];
}

function roleOf(name: string): Role | undefined {
  const word = name.trim().toLowerCase();
  if (FEEDS.includes(word)) return { stem: '', role: 'in' };
  const first = FIRST.exec(word);
  const last = LAST.exec(word);
  const [role, stem] = first ? [first[1], first[2]] : last ? [last[2], last[1]] : [];
  // "in" within a longer word, as in "indicator", is no role: what is left is a number, a short mark or nothing.
  if (role === undefined || stem === undefined || !/^([a-z]?\d+[a-z]?|[a-z])?$/.test(stem)) return undefined;
  return { stem, role: IS_IN.test(role) ? 'in' : 'out' };
}

function paired(one: string, other: string): Pair {
  const [a, b] = [roleOf(one)?.role, roleOf(other)?.role];
  if (a !== b && (a === 'in' || b === 'out')) return { ways: [one, other], before: one };
  if (a !== b && (b === 'in' || a === 'out')) return { ways: [other, one], before: other };
  return { ways: [one, other] };
}

function byRole(names: readonly string[]): Pair[] {
  const stems = new Map<string, { in: string[]; out: string[] }>();
  for (const name of names) {
    const found = roleOf(name);
    if (!found) continue;
    const ways = stems.get(found.stem) ?? { in: [], out: [] };
    ways[found.role].push(name);
    stems.set(found.stem, ways);
  }
  return [...stems.values()].flatMap(({ in: [before, ...ins], out: [behind, ...outs] }): Pair[] =>
    before !== undefined && behind !== undefined && ins.length + outs.length === 0
      ? [{ ways: [before, behind], before }]
      : [],
  );
}

function byLetter(names: readonly string[]): Pair[] {
  const stems = new Map<string, string[]>();
  for (const name of names) {
    const stem = /^(.*\d)[-_ .]?[ab'’]?$/.exec(name.trim().toLowerCase())?.[1];
    if (stem !== undefined) stems.set(stem, [...(stems.get(stem) ?? []), name]);
  }
  return [...stems.values()].flatMap(([one, other, ...more]): Pair[] =>
    one !== undefined && other !== undefined && more.length === 0 ? [{ ways: [one, other] }] : [],
  );
}

/** One way is the feed of all the others. */
function sharedFeed(names: readonly string[]): Pair[] {
  const feeds = names.filter((name) => {
    const found = roleOf(name);
    return found?.role === 'in' && found.stem === '';
  });
  const [before] = feeds;
  if (before === undefined || feeds.length > 1) return [];
  return names.flatMap((name): Pair[] => (name === before ? [] : [{ ways: [before, name], before }]));
}

function twoByTwo(names: readonly string[]): Pair[] {
  return names.flatMap((name, index): Pair[] => {
    const other = names[index + 1];
    return index % 2 === 0 && other !== undefined ? [{ ways: [name, other] }] : [];
  });
}
