import { and, eq, inArray, sql, type SQL } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { searchThings, searchWords } from '../schema/index.ts';
import { beyond, fewWith, lookupsOf, MANY, type Lookup } from './expand.ts';
import type { Thing } from './keep.ts';
import { FACTOR_OF_A_PART, metBy, type Met, type Readings } from './units.ts';
import type { Word } from './words.ts';

/** What is searched for, and the page of it. */
export interface Search {
  thing: Thing;
  readings: Readings;
  kind?: string | undefined;
  supplier?: string | undefined;
  /** Only offers of this part. */
  part?: string | undefined;
  limit: number;
  /** The last of the page before. */
  after?: { score: number; code: string } | undefined;
}

export interface Hit {
  code: string;
  score: number;
  why: Met[];
}

/** How many things have each value, the most first. */
export type Counts = { value: string; count: number }[];

export interface Hits {
  found: number;
  hits: Hit[];
  more: boolean;
  facets: Record<'kind' | 'size' | 'colour' | 'supplier', Counts>;
}

interface Answer {
  found: number;
  page: { code: string; score: number }[] | null;
  facets: { facet: keyof Hits['facets']; value: string; count: number }[] | null;
}

const FACETS = ['kind', 'size', 'colour', 'supplier'] as const;
/** The most values that are told of a facet. */
const MOST_VALUES = 50;

/** Finds what meets every unit of one of the readings, the best first; of equals by code. */
export async function findThings({ ctx, input }: { ctx: Ctx; input: Search }): Promise<Hits> {
  const { thing, readings, limit } = input;
  const lookups = await lookupsOf(ctx, readings.flat());
  const ways: SQL[] = [];
  for (const units of readings) {
    const way = await hitsOf(
      ctx,
      thing,
      units.map((unit) => lookups.get(unit) as Lookup),
    );
    if (way) ways.push(way);
  }
  if (ways.length === 0) return { found: 0, hits: [], more: false, facets: facetsOf([]) };
  const answer = await answerOf(ctx, input, ways);
  const page = (answer.page ?? []).slice(0, limit);
  const why = await whyOf(
    ctx,
    input,
    page.map(({ code }) => code),
  );
  return {
    found: Number(answer.found),
    more: (answer.page ?? []).length > limit,
    hits: page.map(({ code, score }) => ({ code, score: Number(score), why: why.get(code) ?? [] })),
    facets: facetsOf(answer.facets ?? []),
  };
}

/** What meets all units, with its score; undefined where it is nothing. The rarest is looked up first, and the others only there. */
async function hitsOf(ctx: Ctx, thing: Thing, lookups: readonly Lookup[]): Promise<SQL | undefined> {
  let few: string[] | undefined;
  for (const lookup of lookups) {
    const codes = await fewWith(ctx, thing, lookup);
    if (codes && codes.length < (few?.length ?? Infinity)) few = codes;
    if (few && few.length <= FEW_ENOUGH) break;
  }
  if (few?.length === 0) return undefined;
  const among =
    few && sql`and code = any(array(select jsonb_array_elements_text(${JSON.stringify(few)}::text::jsonb)))`;
  const rows = lookups.flatMap((lookup, unit) => rowsOf(ctx, thing, lookup, unit, among ?? sql``));
  return sql`select code, sum(best)::int as score from (
    select unit, code, max(score) as best from (${sql.join(rows, sql` union all `)}) as rows group by unit, code
  ) as met group by code having count(*) = ${lookups.length}::int`;
}

/** A unit met by no more than this is worth no look for a rarer one. */
const FEW_ENOUGH = MANY / 10;

function rowsOf(ctx: Ctx, thing: Thing, { whole, from }: Lookup, unit: number, among: SQL): SQL[] {
  const rows = (factor: SQL, words: SQL) =>
    sql`select ${unit}::int as unit, code, weight * ${factor} as score from ${searchWords} where club_id = ${ctx.club} and thing = ${thing} and ${words} ${among}`;
  const oneOf = (words: readonly string[]) =>
    sql`word in (${sql.join(
      words.map((word) => sql`${word}`),
      sql`, `,
    )})`;
  // What begins so is read once, whatever it counts.
  const begins = (word: string) => from !== undefined && word.startsWith(from);
  const apart = [...whole].map(([factor, words]) => ({
    factor,
    words: words.filter((word) => !begins(word)),
  }));
  const within = [...whole].map(([factor, words]) => ({ factor, words: words.filter(begins) }));
  const cases = within
    .filter(({ factor, words }) => factor !== FACTOR_OF_A_PART && words.length > 0)
    .map(({ factor, words }) => sql`when ${oneOf(words)} then ${factor}::int`);
  return [
    ...apart
      .filter(({ words }) => words.length > 0)
      .map(({ factor, words }) => rows(sql`${factor}::int`, oneOf(words))),
    ...(from === undefined
      ? []
      : [
          rows(
            cases.length === 0
              ? sql`${FACTOR_OF_A_PART}::int`
              : sql`case ${sql.join(cases, sql` `)} else ${FACTOR_OF_A_PART}::int end`,
            sql`word >= ${from} and word < ${beyond(from)}`,
          ),
        ]),
  ];
}

async function answerOf(ctx: Ctx, input: Search, ways: SQL[]): Promise<Answer> {
  const { thing, kind, supplier, part, after, limit } = input;
  const [only] = ways;
  const hits =
    ways.length === 1 && only
      ? only
      : sql`select code, max(score) as score from (${sql.join(ways, sql` union all `)}) as ways group by code`;
  const filters = [
    ...(kind === undefined ? [] : [sql`and t.kind = ${kind}`]),
    ...(supplier === undefined ? [] : [sql`and t.supplier = ${supplier}`]),
    ...(part === undefined
      ? []
      : [
          sql`and exists (select 1 from offer_parts o where o.club_id = ${ctx.club} and o.offer_code = t.code and o.part_code = ${part})`,
        ]),
  ];
  const beyondLast = after
    ? sql`where score < ${after.score}::int or (score = ${after.score}::int and code > ${after.code})`
    : sql``;
  const counts = FACETS.map(
    (facet) =>
      sql`(select ${facet}::text as facet, ${sql.identifier(facet)} as value, count(*)::int as count from found where ${sql.identifier(facet)} is not null group by 2 order by 3 desc, 2 limit ${MOST_VALUES}::int)`,
  );
  // Each thing by its key (offset 0), whatever the planner thinks how many there are: it may have no figures of them yet.
  const [answer] = await ctx.tx
    .select({
      found: sql<number>`found`,
      page: sql<Answer['page']>`page`,
      facets: sql<Answer['facets']>`facets`,
    })
    .from(
      sql`(with found as materialized (
        select h.code, h.score, t.kind, t.size, t.colour, t.supplier from (${hits}) as h
        cross join lateral (
          select * from ${searchThings} one
          where one.club_id = ${ctx.club} and one.thing = ${thing} and one.code = h.code offset 0
        ) as t
        where true ${sql.join(filters, sql` `)}
      ) select
        (select count(*)::int from found) as found,
        (select json_agg(p) from (select code, score from found ${beyondLast} order by score desc, code limit ${limit + 1}::int) as p) as page,
        (select json_agg(f) from (${sql.join(counts, sql` union all `)}) as f) as facets
      ) as answer`,
    );
  if (!answer) throw new Error('a select without a table gives one row');
  return answer;
}

function facetsOf(rows: NonNullable<Answer['facets']>): Hits['facets'] {
  const of = (facet: string): Counts =>
    rows.filter((row) => row.facet === facet).map(({ value, count }) => ({ value, count: Number(count) }));
  return { kind: of('kind'), size: of('size'), colour: of('colour'), supplier: of('supplier') };
}

/** Why each of these was found: the better of the readings. */
async function whyOf(
  ctx: Ctx,
  { thing, readings }: Search,
  codes: readonly string[],
): Promise<Map<string, Met[]>> {
  if (codes.length === 0) return new Map();
  const { clubId, code, word, field, weight } = searchWords;
  const rows = await ctx.tx
    .select({ code, word, field, weight })
    .from(searchWords)
    .where(and(eq(clubId, ctx.club), eq(searchWords.thing, thing), inArray(code, [...codes])));
  const words = new Map<string, Word[]>(codes.map((each) => [each, []]));
  for (const { code: of, ...each } of rows) words.get(of)?.push(each);
  return new Map([...words].map(([of, kept]) => [of, bestOf(readings, kept)?.met ?? []] as const));
}

/** The best reading of a search for a thing with these words; undefined where none is met. */
export function bestOf(
  readings: Readings,
  words: readonly Word[],
): { score: number; met: Met[] } | undefined {
  let best: { score: number; met: Met[] } | undefined;
  for (const units of readings) {
    const met = metBy(
      units,
      [...words].sort((a, b) => (a.word < b.word ? -1 : 1)),
    );
    if (!met) continue;
    const score = met.reduce((sum, each) => sum + each.score, 0);
    if (score > (best?.score ?? -1)) best = { score, met };
  }
  return best;
}
