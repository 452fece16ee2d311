import { and, eq, gte, inArray, lt, or, type SQL } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { searchPieces, searchWords } from '../schema/index.ts';
import { isLetters, withoutOne } from './fold.ts';
import type { Thing } from './keep.ts';
import { factorOf, howMet, SHORTEST_PART, takesSlips, type Unit } from './units.ts';

/** A unit as rows are looked up by it. */
export interface Lookup {
  /** Words taken whole, by the factor that they count with. */
  whole: ReadonlyMap<number, readonly string[]>;
  /** Words that begin so. */
  from: string | undefined;
}

/** Behind every text that begins with it, in byte order. */
export const beyond = (word: string) => `${word}\u{10FFFF}`;

/** All words of letters that the units may be a part of, or a slip from, in one look; howMet settles which are. */
export async function lookupsOf(ctx: Ctx, units: readonly Unit[]): Promise<Map<Unit, Lookup>> {
  const { clubId, how, piece, word } = searchPieces;
  const asked = [...new Set(units.flatMap((each) => each.word ?? []))].filter(isLetters);
  const within = asked.filter((each) => each.length >= SHORTEST_PART);
  const slips = asked.filter(takesSlips).flatMap((each) => [each, ...withoutOne(each)]);
  const near: (SQL | undefined)[] = [
    ...within.map((each) => and(eq(how, 'end'), gte(piece, each), lt(piece, beyond(each)))),
    slips.length > 0 ? and(eq(how, 'slip'), inArray(piece, slips)) : undefined,
  ].filter((each) => each !== undefined);
  const rows =
    near.length === 0
      ? []
      : await ctx.tx
          .selectDistinct({ word })
          .from(searchPieces)
          .where(and(eq(clubId, ctx.club), or(...near)));
  const words = rows.map((row) => row.word);
  return new Map(units.map((unit) => [unit, lookupOf(unit, words)]));
}

function lookupOf(unit: Unit, words: readonly string[]): Lookup {
  const byFactor = new Map<number, string[]>();
  const candidates = new Set([
    ...unit.whole.keys(),
    ...(unit.word === undefined ? [] : [unit.word]),
    ...words,
  ]);
  for (const candidate of candidates) {
    const how = howMet(unit, candidate);
    if (how === undefined) continue;
    const factor = factorOf(how);
    const same = byFactor.get(factor) ?? [];
    byFactor.set(factor, [...same, candidate]);
  }
  const { word } = unit;
  return { whole: byFactor, from: word !== undefined && word.length >= SHORTEST_PART ? word : undefined };
}

/** Counting stops here: a word of so many things is no rare one. */
export const MANY = 1_000;

/** The codes of what meets a unit, where they are few; undefined where there are many. */
export async function fewWith(ctx: Ctx, thing: Thing, lookup: Lookup): Promise<string[] | undefined> {
  const rows = await ctx.tx
    .select({ code: searchWords.code })
    .from(searchWords)
    .where(and(eq(searchWords.clubId, ctx.club), eq(searchWords.thing, thing), meets(lookup)))
    .limit(MANY + 1);
  return rows.length > MANY ? undefined : [...new Set(rows.map(({ code }) => code))];
}

function meets({ whole, from }: Lookup): SQL | undefined {
  const words = [...whole.values()].flat();
  return or(
    words.length > 0 ? inArray(searchWords.word, words) : undefined,
    from === undefined ? undefined : and(gte(searchWords.word, from), lt(searchWords.word, beyond(from))),
  );
}
