import { fillAround, type Effort, type Found } from './fill.ts';
import type { Cutting } from './lengths.ts';
import { openingsUpTo, type Opening } from './openings.ts';
import { compareOpenings, rankOf, type Rank } from './rank.ts';
import { Reach } from './reach.ts';

/** Tables have no more entries than this; so many of them are reckoned as one step. */
const MOST_ENTRIES = 16_000_000;
const ENTRIES_A_STEP = 50;

/** More sets of lengths than this are not compared. */
const MOST_OPENINGS = 200;

/** More pieces and lengths than this are not searched at once, as the search goes down by one call for each. */
const MOST_AT_ONCE = 2_000;

/** The best cutting, or, where the effort ended first, the best that was found. */
export function searched(
  cutting: Cutting,
  keepMm: number,
  effort: Effort,
): { cutting: Cutting; ended: boolean } {
  const { lengths, kinds, opened } = cutting;
  const rank = rankOf(lengths, opened, keepMm);
  const pieces = kinds.reduce((sum, { count }) => sum + count, 0);
  if (pieces + opened.length > MOST_AT_ONCE) return { cutting, ended: false };
  const openings = openingsUpTo(lengths, kinds, rank, MOST_OPENINGS) ?? [openingOf(cutting, rank)];
  if (openings.length === 1 && isLongest(cutting, rank, keepMm)) return { cutting, ended: true };
  const inUse = lengths.filter((_, at) => openings.some((opening) => opening.opened.includes(at)));
  const longest = inUse.reduce((most, { usableMm }) => Math.max(most, usableMm), 0);
  const reach = Reach.of(
    kinds,
    inUse.map(({ wave }) => wave),
    longest,
    MOST_ENTRIES,
  );
  if (!reach) return { cutting, ended: false };
  const result = openingsInTurn(cutting, rank, openings, reach, keepMm, effort);
  effort.left -= Math.ceil(reach.entries / ENTRIES_A_STEP);
  return result;
}

/** The sets of lengths in turn; behind the first that does only those that are as good. */
function openingsInTurn(
  cutting: Cutting,
  rank: Rank,
  openings: readonly Opening[],
  reach: Reach,
  keepMm: number,
  effort: Effort,
): { cutting: Cutting; ended: boolean } {
  const { lengths, kinds } = cutting;
  let known: { rank: Omit<Rank, 'offcuts'>; found: Found } = {
    rank,
    found: { opened: cutting.opened, offcuts: rank.offcuts },
  };
  let ended = true;
  const searches = openings.flatMap((opening) =>
    [...new Set(opening.opened)]
      .sort((a, b) => (lengths[b]?.usableMm ?? 0) - (lengths[a]?.usableMm ?? 0) || a - b)
      .map((holder) => ({ opening, holder })),
  );
  searches.forEach(({ opening, holder }, at) => {
    const order = compareOpenings(opening.rank, known.rank);
    if (order > 0) return;
    const share: Effort = { left: Math.max(0, Math.floor(effort.left / (searches.length - at))) };
    const before = share.left;
    const filling = { lengths, kinds, reach, opened: opening.opened, keepMm };
    const search = fillAround(filling, holder, order === 0 ? known.found : undefined, share);
    effort.left -= before - Math.max(0, share.left);
    if (!search.ended) ended = false;
    if (search.best && search.best !== known.found)
      known = { rank: rankOf(lengths, search.best.opened, keepMm), found: search.best };
  });
  return { cutting: { ...cutting, opened: known.found.opened }, ended };
}

function openingOf({ opened }: Cutting, rank: Rank): Opening {
  return { opened: opened.map(({ length }) => length), rank };
}

/** Whether no other cutting of the same lengths leaves longer offcuts: there is too little over, or it is all in one. */
function isLongest({ lengths, kinds, opened }: Cutting, rank: Rank, keepMm: number): boolean {
  const left = rankOf(lengths, opened, 0).mm - kinds.reduce((sum, { mm, count }) => sum + mm * count, 0);
  return left < keepMm || rank.offcuts[0] === left;
}
