import type { Finding } from '../../model/finding.ts';
import { AVIATION_RULE, BLOW_RULE, fuseWords } from '../../trade/fuses.ts';
import { carriesOf, extremes, type FuseSite, type StatedFuse } from '../protection/fuseSites.ts';
import type { Post } from '../protection/pointEnds.ts';
import type { WireOf } from '../graph/circuits.ts';
import { smallestBehind, type Rated } from './behindFuses.ts';
import type { CheckContext } from './context.ts';
import { atWire, sortWords } from './eachWire.ts';
import { someOf } from './words.ts';

/**
 * Each fuse, wherever it is entered, by what it carries for good, against the smallest rated wire behind it and against the
 * current that goes through it. The wire that is too thin is told, so that the same slip is the same finding however the
 * fuse was entered; of several fuses before it the one that lets the most through.
 */
export function checkFuses(context: CheckContext): Finding[] {
  const behind = smallestBehind(context);
  const tooBigFor = new Map<string, { carries: number; finding: Finding }>();
  const small = context.protection.sites.flatMap((site): Finding[] => {
    const known = extremes(site);
    if (!known) return [];
    const least = behind(site);
    const carries = carriesOf(known.most);
    if (least && carries > least.amps) {
      const key = JSON.stringify([least.asked.index, least.wire.id]);
      const other = tooBigFor.get(key);
      if (!other || other.carries < carries)
        tooBigFor.set(key, { carries, finding: tooBig(known.most, site, least) });
    }
    return tooSmall(context, site, known.least);
  });
  return [...[...tooBigFor.values()].map(({ finding }) => finding), ...small];
}

/** "a fuse of 35 A by blowing, about 17.5 A for good (part fuse-35, point line-holder)" */
export function fuseIn(fuse: StatedFuse, { holder }: FuseSite): string {
  const taken = fuse.basisTaken ? ', its basis not stated and assumed to be a continuous rating' : '';
  const at = holder ? `, point ${holder.point.id}` : '';
  return `a fuse of ${fuseWords(fuse.ratingAmps, fuse.basis)} (${fuse.by}${at}${taken})`;
}

/** By which rule a fuse is held against a wire. */
export function fuseRule({ basis }: StatedFuse): string {
  return basis === 'blow' ? BLOW_RULE : AVIATION_RULE;
}

function tooBig(fuse: StatedFuse, site: FuseSite, { wire, amps, source, ...place }: Rated): Finding {
  return {
    code: 'fuse-too-big',
    severity: 'stop',
    ...atWire({ ...place, wire }),
    found: `${fuseIn(fuse, site)} before wire ${wire.id}, ${sortWords(wire)}, rated ${amps} A`,
    limit: `at most ${amps} A continuously`,
    source: `${fuseRule(fuse)}; the wire’s rating: ${source}; that the fuse must suit the smallest wire behind it: common practice`,
    todo: `Use a smaller fuse, use a larger wire for ${wire.id}, or give that wire its own fuse.`,
  };
}

function tooSmall({ protection }: CheckContext, site: FuseSite, fuse: StatedFuse): Finding[] {
  const through = currentThrough(site, protection.before(site), protection.regionOf);
  const [heaviest] = [...(through?.wires ?? [])].sort((a, b) => (b.wire.amps ?? 0) - (a.wire.amps ?? 0));
  if (!through || !heaviest || carriesOf(fuse) >= through.amps) return [];
  const wires = someOf(through.wires.map(({ wire }) => wire.id));
  return [
    {
      code: 'fuse-too-small',
      severity: 'warning',
      ...atWire(heaviest),
      found: `${fuseIn(fuse, site)} for ${through.amps} A of ${through.wires.length === 1 ? 'wire' : 'wires'} ${wires}`,
      limit: `at least ${through.amps} A continuously`,
      source: 'common practice, no source',
      todo: 'It blows in use. Use a larger fuse that the wires behind it can still carry, or correct the amps.',
    },
  ];
}

interface Through {
  amps: number;
  wires: readonly WireOf[];
}

/**
 * What goes through a fuse: the amps of the wires that leave it. Where its sides are not told apart the lesser of both, as a
 * feed may go on to other fuses; a feed of several wires by itself says nothing.
 */
function currentThrough(
  { posts }: FuseSite,
  before: number | undefined,
  regionOf: (place: number) => number,
): Through | undefined {
  const known = (some: readonly Post[]) => some.map(atPost).filter(({ wires }) => wires.length > 0);
  const leaving = known(posts.filter(({ place }) => before !== undefined && regionOf(place) !== before));
  if (leaving.length > 0)
    return {
      amps: rounded(leaving.reduce((total, { amps }) => total + amps, 0)),
      wires: leaving.flatMap(({ wires }) => wires),
    };
  if (posts.length > 2) return undefined;
  const sides = known(posts);
  const [one, other] = sides;
  if (one && other) return other.amps < one.amps ? other : one;
  return one?.wires.length === 1 ? one : undefined;
}

function atPost({ ends }: Post): Through {
  const wires = [...new Set(ends.map(({ wire }) => wire))].filter(({ wire }) => (wire.amps ?? 0) > 0);
  return { amps: rounded(wires.reduce((total, { wire }) => total + (wire.amps ?? 0), 0)), wires };
}

/** Sums of amps as they would be on paper. */
function rounded(amps: number): number {
  return Number(amps.toFixed(6));
}
