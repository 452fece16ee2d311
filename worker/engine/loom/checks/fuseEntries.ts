import { pointer, type Finding } from '../../model/finding.ts';
import type { Fuse } from '../../model/loom.ts';
import { fuseWords } from '../../trade/fuses.ts';
import { asStated, fusesListed, mayHold } from '../protection/listedFuses.ts';
import { namesFuse } from '../protection/markings.ts';
import type { FuseSite, StatedFuse } from '../protection/fuseSites.ts';
import type { PointEnds } from '../protection/pointEnds.ts';
import type { CheckContext } from './context.ts';
import { atWire } from './eachWire.ts';
import { someOf } from './words.ts';

/** What is stated of fuses, whatever stands behind them: a holder for each, one rating, one basis, one pair of ways. */
export function checkFuseEntries(context: CheckContext): Finding[] {
  const { protection } = context;
  return [
    ...protection.sites.flatMap((site) => [...noHolder(context, site), ...differing(site)]),
    ...unpaired(context),
    ...feedsNowhere(context),
    ...unstated(context),
    ...notListed(context),
  ];
}

/** Where an end leads out of the looms, or is a fusible link, the fuse may stand there. */
function noHolder({ protection }: CheckContext, { inWire }: FuseSite): Finding[] {
  if (!inWire || (inWire.wire.function && 'fixedMm' in inWire.wire.function)) return [];
  const ends = pointsOf(protection.points, inWire);
  if (ends.some(({ open, point }) => open || namesFuse(point.id, point.label))) return [];
  const { fuse } = inWire.wire;
  return [
    {
      code: 'fuse-without-holder',
      severity: 'warning',
      ...atWire(inWire, 'fuse'),
      found: `a fuse of ${fuse ? fuseWords(fuse.ratingAmps, fuse.basis) : ''}, and no holder or fuse box at either end of wire ${inWire.wire.id}`,
      limit: 'a holder or fuse box at one end',
      source: 'common practice, no source',
      todo: 'Enter the holder as a point of the wire, with its part, and it will be counted; or remove the fuse from this wire.',
    },
  ];
}

const places = new WeakMap<readonly PointEnds[], Map<object, PointEnds[]>>();

function pointsOf(points: readonly PointEnds[], { wire }: { wire: object }): readonly PointEnds[] {
  const known = places.get(points) ?? byWire(points);
  places.set(points, known);
  return known.get(wire) ?? [];
}

function byWire(points: readonly PointEnds[]): Map<object, PointEnds[]> {
  const ends = new Map<object, PointEnds[]>();
  for (const at of points)
    for (const post of at.posts)
      for (const { wire } of post.ends) ends.set(wire.wire, [...(ends.get(wire.wire) ?? []), at]);
  return ends;
}

/** One fuse of which two figures are stated. */
function differing({ holder, fuses }: FuseSite): Finding[] {
  const [first, ...others] = fuses;
  if (!holder || !first) return [];
  const other = others.find((each) => differs(each, first));
  return other ? [twoFigures(holder, first, other)] : [];
}

function differs(a: Fuse, b: Fuse): boolean {
  return a.ratingAmps !== b.ratingAmps || a.basis !== b.basis;
}

function twoFigures(holder: PointEnds, one: StatedFuse, other: StatedFuse): Finding {
  const basis = one.ratingAmps === other.ratingAmps;
  return {
    code: basis ? 'fuse-basis-differs' : 'fuse-differs',
    severity: 'warning',
    ...atHolder(holder),
    subject: `point:${holder.point.id}`,
    found: [one, other].map((fuse) => `${wordsOf(fuse)} at ${fuse.by}`).join(', '),
    limit: basis ? 'one basis: continuous rating or blow rating' : 'one rating',
    source: 'common practice, no source',
    todo: 'State the same everywhere, as it is marked on the fuse that is fitted. Until then the wires are checked against the greater of the two.',
  };
}

function wordsOf({ ratingAmps, basis }: Fuse): string {
  return `${ratingAmps} A ${basis === 'blow' ? 'blow rating' : 'continuous rating'}`;
}

function atHolder({ asked, point, index }: PointEnds): Pick<Finding, 'at' | 'where'> {
  return {
    at: pointer(['looms', asked.index, 'points', index]),
    where: `loom ${asked.loom.code}, point ${point.id}`,
  };
}

/** Ways at which a point says that it is fed, and at which no wire is: the feed and its fuse are not known then. */
function feedsNowhere({ protection }: CheckContext): Finding[] {
  return protection.points.flatMap((at): Finding[] => {
    const { id, feed } = at.point;
    const there = new Set(at.posts.map(({ way }) => way));
    const empty = (feed?.ways ?? []).filter((way) => !there.has(way));
    if (empty.length === 0) return [];
    return [
      {
        code: 'feed-at-no-wire',
        severity: 'warning',
        ...atHolder(at),
        subject: `point:${id}`,
        found: `the feed names way ${empty.join(', ')}, and no wire of this point names that way`,
        limit: 'a wire in each way that is fed',
        todo: 'Name the way at the wire that is fed, or correct the ways of the feed. Until then no wire is checked against the feed and its fuse.',
      },
    ];
  });
}

/** Holders of which nothing says which of their ways one fuse joins. */
function unpaired({ protection }: CheckContext): Finding[] {
  return protection.unpaired.map(({ holder, posts }) => {
    const ways = posts.flatMap(({ way }) => way ?? []);
    const wires = someOf(posts.flatMap(({ ends }) => ends.map(({ wire }) => wire.wire.id)));
    return {
      code: 'fuse-not-paired',
      severity: 'warning',
      ...atHolder(holder),
      subject: `point:${holder.point.id}`,
      found: `it is not known which two wires of the holder each fuse joins: ${
        ways.length > 0 ? `ways ${ways.join(', ')}` : 'no ways named'
      }, wires ${wires}`,
      limit: 'the two ways of each fuse',
      todo: 'Give the two ways of a fuse matching names, such as 1 and 1a, or in1 and out1; or list the pins of the holder in pairs. Until then these wires are not checked against its fuses.',
    };
  });
}

/** Holders with wires and no fuse stated anywhere. */
function unstated(context: CheckContext): Finding[] {
  const { protection, looms, parts, fits } = context;
  const holders = new Map<PointEnds, FuseSite[]>();
  for (const site of protection.sites)
    // A spare way of a box with one feed holds no fuse that matters.
    if (site.holder && site.fuses.length === 0 && !isSpare(site))
      holders.set(site.holder, [...(holders.get(site.holder) ?? []), site]);
  const listed = new Map(looms.map((asked) => [asked, fusesListed(asked, parts)] as const));
  return [...holders].map(([holder, sites]) => {
    const posts = [...new Set(sites.flatMap((site) => site.posts))];
    const may = mayHold(holder, listed.get(holder.asked) ?? [], fits).map(({ code }) => code);
    return {
      code: 'fuse-not-stated',
      severity: 'warning',
      ...atHolder(holder),
      subject: `point:${holder.point.id}`,
      found: [
        `no fuse is stated at the holder of wires ${someOf(posts.flatMap(({ ends }) => ends.map(({ wire }) => wire.wire.id)))}`,
        ...(may.length > 0 ? [`it may be any of ${may.join(', ')}`] : []),
      ].join('; '),
      limit: 'the rating of the fuse, and whether it is a continuous or a blow rating',
      todo: 'State the fuse at the wire that leaves the holder, with its rating and whether that is continuous or blow. Until then these wires are not checked.',
    };
  });
}

function isSpare({ posts, before }: FuseSite): boolean {
  return before !== undefined && posts.every(({ place }) => place === before);
}

/** Fuses that wires state, where the loom lists fuses and none of these among them. */
function notListed({ protection, looms, parts, fits }: CheckContext): Finding[] {
  const listed = new Map(looms.map((asked) => [asked, fusesListed(asked, parts)] as const));
  return protection.sites.flatMap(({ holder, fuses }): Finding[] => {
    const stated = fuses.find(({ from }) => from === 'wire');
    // What the part says is told against the wires already.
    if (!holder || !stated || fuses.some(({ from }) => from === 'part')) return [];
    const may = mayHold(holder, listed.get(holder.asked) ?? [], fits).map(asStated);
    if (may.length === 0 || may.some((each) => !differs(each, stated))) return [];
    const near = may.find(({ ratingAmps }) => ratingAmps === stated.ratingAmps);
    if (near && near.basisTaken) return [];
    return [
      {
        code: near ? 'fuse-basis-differs' : 'fuse-differs',
        severity: 'warning',
        ...atHolder(holder),
        subject: `point:${holder.point.id}`,
        found: `${wordsOf(stated)} at ${stated.by}; the loom lists ${someOf(may.map((each) => `${wordsOf(each)} (${each.by})`))}`,
        limit: 'the stated fuse in the list of parts of the loom',
        source: 'common practice, no source',
        todo: 'List the fuse that belongs in this holder, or correct what the wire states.',
      },
    ];
  });
}
