import type { Control } from '../model/control.ts';
import { packedBy, possibleFillings } from './allFillings.ts';
import { cuttingOf } from './cutting.ts';
import { dive, fractionsOf } from './dive.ts';
import { greedyPacking } from './greedy.ts';
import { brokenBy } from './inequalities.ts';
import type { Inequality } from './inequality.ts';
import { lossesAt } from './losses.ts';
import { exactly, type Found, type Packed, type Rest, type Search } from './packing.ts';
import type { Pieces } from './patterns.ts';
import { otherChoices } from './otherChoices.ts';
import { tightPacking } from './tight.ts';
import { searchTree } from './tree.ts';

/** Bought lengths of one kind. `wave`: the order that they come with (0 where there is none). */
export interface Bin {
  usableMm: number;
  count: number;
  wave?: number;
}

/**
 * Whether all pieces come whole out of the lengths. Packed: `lengths` of a bin (its place in the list) filled alike, in
 * sum the pieces exactly. Impossible: proven, with an inequality that the lengths break where a fractional cutting
 * already shows it. Unknown: the control's time ran out, or the search grew beyond its limits; with more effort it may be told.
 */
export type Packing =
  | { status: 'packed'; lengths: { bin: number; lengths: number; pieces: Pieces[] }[] }
  | { status: 'impossible'; why?: Inequality }
  | { status: 'unknown' };

/** Beyond these, times the effort, a search is given up. */
const FEW_FILLINGS = 1_500;
const MANY_FILLINGS = 20_000;
const FILLINGS_AT_NODE = 3_000;
const DIVES = 6;
const MOST_NODES = 20_000;

/**
 * Whether all pieces (longest first, each length and wave once) come whole out of these lengths, nothing being lost at a
 * cut; a piece comes out of a length of its own order or an earlier one. `effort`: so many times the usual limits of the
 * search; with 0 only what the fractions show. The same question has the same answer, but for running out of time. Throws
 * Cancelled when the control says so.
 */
export async function packInto(
  bins: readonly Bin[],
  pieces: readonly Pieces[],
  control: Control,
  effort = 1,
): Promise<Packing> {
  const plain = packPlainly(bins, pieces);
  if (plain) return plain;
  const { wanted, kinds, cutting, rest } = questionOf(bins, pieces);
  const search: Search = { cutting, control, pool: [] };
  const binsCut = cuttingOf(bins, wanted);
  const counts = bins.map(({ count }) => Math.max(0, count));
  const broken = (values: readonly number[]) => brokenBy(binsCut, values, counts, []);
  const fits = (at: number) =>
    cutting.stocks.some(
      ({ size, wave }) => size >= (cutting.pieces[at]?.size ?? 0) && wave <= (cutting.pieces[at]?.wave ?? 0),
    );
  const stranger = wanted.findIndex((_, at) => !fits(at));
  const simple = broken(wanted.map(({ mm }, at) => (stranger >= 0 ? (at === stranger ? 1 : 0) : mm)));
  if (simple) return { status: 'impossible', why: simple };
  const answer = await fractionsOf(search, rest, true);
  if (!answer) return { status: 'unknown' };
  const why = broken(answer.values);
  if (why) return { status: 'impossible', why };
  const losses = lossesAt(search, rest, answer.values);
  if (losses && losses.spare < 0) return { status: 'impossible' };
  if (effort <= 0) return { status: 'unknown' };
  const found = await wholly(search, rest, effort);
  return typeof found === 'string'
    ? { status: found }
    : { status: 'packed', lengths: inBins(exactly(found, rest), kinds, bins, wanted) };
}

/** All pieces out of the lengths in some plain order of filling them; undefined where that comes to nothing. */
export function packPlainly(
  bins: readonly Bin[],
  pieces: readonly Pieces[],
): Extract<Packing, { status: 'packed' }> | undefined {
  const { wanted, kinds, cutting, rest } = questionOf(bins, pieces);
  const packed = greedyPacking(cutting, rest) ?? tightPacking(cutting, rest);
  return packed && { status: 'packed', lengths: inBins(exactly(packed, rest), kinds, bins, wanted) };
}

function questionOf(bins: readonly Bin[], pieces: readonly Pieces[]) {
  const wanted = pieces.filter(({ count }) => count > 0);
  const kinds = kindsOf(
    bins,
    wanted.reduce((sum, { count }) => sum + count, 0),
  );
  const rest: Rest = { lengths: kinds.map(({ count }) => count), counts: wanted.map(({ count }) => count) };
  return { wanted, kinds, cutting: cuttingOf(kinds, wanted), rest };
}

/** Where it comes out in fractions: by dives, by all fillings that are possible, by an exact search. */
async function wholly(search: Search, rest: Rest, effort: number): Promise<Found> {
  const most = (limit: number) => Math.ceil(limit * effort);
  const first = await dive(search, rest);
  if (first) return first;
  const answer = await fractionsOf(search, rest, false);
  if (!answer) return 'unknown';
  const losses = lossesAt(search, rest, answer.values);
  if (losses && losses.spare < 0) return 'impossible';
  const few = losses && possibleFillings(search, rest, losses, FEW_FILLINGS);
  if (few) {
    const found = await packedBy(few, search, rest, most(MOST_NODES));
    if (found !== 'unknown') return found;
  }
  for (let at = 1; at < most(DIVES); at++) {
    const again = await dive(search, rest, otherChoices(at));
    if (again) return again;
  }
  const many = losses && !few && possibleFillings(search, rest, losses, most(MANY_FILLINGS));
  if (many) {
    const found = await packedBy(many, search, rest, most(MOST_NODES));
    if (found !== 'unknown') return found;
  }
  return searchTree(search, rest, { nodes: most(MOST_NODES), fillings: FILLINGS_AT_NODE });
}

interface Kind {
  usableMm: number;
  wave: number;
  count: number;
}

/** Bins alike as one kind, no more of it than there are pieces. */
function kindsOf(bins: readonly Bin[], most: number): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const { usableMm, count, wave = 0 } of bins) {
    if (count <= 0) continue;
    const key = `${usableMm}:${wave}`;
    const before = kinds.get(key)?.count ?? 0;
    kinds.set(key, { usableMm, wave, count: Math.min(most, before + count) });
  }
  return [...kinds.values()];
}

/** The packing in the words of the question. */
function inBins(
  packed: readonly Packed[],
  kinds: readonly Kind[],
  bins: readonly Bin[],
  pieces: readonly Pieces[],
): { bin: number; lengths: number; pieces: Pieces[] }[] {
  const left = bins.map(({ count }) => count);
  return packed.flatMap(({ fill, times }) => {
    const kind = kinds[fill.stock];
    const own = pieces.flatMap((piece, at) => {
      const count = fill.counts[at] ?? 0;
      return count > 0 ? [{ ...piece, count }] : [];
    });
    let rest = times;
    return bins.flatMap((bin, at) => {
      if (bin.usableMm !== kind?.usableMm || (bin.wave ?? 0) !== kind.wave) return [];
      const lengths = Math.min(rest, Math.max(0, left[at] ?? 0));
      if (lengths === 0) return [];
      rest -= lengths;
      left[at] = (left[at] ?? 0) - lengths;
      return [{ bin: at, lengths, pieces: own }];
    });
  });
}
