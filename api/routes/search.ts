import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import type { Catalogue } from '../../db/catalogue.ts';
import { listSameNumbers, sameNumbersOf } from '../../db/sameNumbers.ts';
import { plainWords } from '../../db/search/fold.ts';
import { findThings, type Hits } from '../../db/search/find.ts';
import { coloursMeant, sizesMeant } from '../../db/search/notations.ts';
import { asked, HOWS, readingsOf, type Unit } from '../../db/search/units.ts';
import { getSynonyms, readSynonyms, setSynonyms, SynonymGroups, synonymsOf } from '../../db/synonyms.ts';
import { Code } from '../../worker/engine/model/code.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { HttpProblem } from '../http/problem.ts';

const LONGEST_SEARCH = 300;
const MOST_WORDS = 16;

const text = (description: string) => z.string().max(LONGEST_SEARCH).optional().meta({ description });

/** What makes a list a search. */
export const searchQuery = {
  q: text(
    `Words to search for, in any order: whole, a part of at least 3 letters, or with one slip; numbers with or without spaces and dashes; sizes and colours as they are written in a loom. At most ${MOST_WORDS} words.`,
  ),
  size: text('Only this size, as "14/0.30" or "16 AWG".'),
  colour: text('Only this colour, as "green/white" or "gw".'),
};

const counts = z.array(z.strictObject({ value: z.string(), count: z.int() }));
const SameNumberOut = z.strictObject({ whose: z.string(), number: z.string(), parts: z.array(Code) }).meta({
  id: 'SameNumber',
  description: 'Parts that have the same number of the same maker: most likely they are one part.',
});

/** What a search of these things answers. */
export const foundSchema = (item: z.ZodType, id: string) =>
  z
    .strictObject({
      items: z.array(
        z.strictObject({
          item,
          score: z.int(),
          why: z.array(
            z.strictObject({
              said: z.string().meta({ description: 'What was searched for.' }),
              word: z.string().meta({ description: 'The word that it was found by.' }),
              field: z.string().meta({ description: 'Where that word stands.' }),
              how: z.enum(HOWS),
            }),
          ),
        }),
      ),
      next: z.union([z.string(), z.null()]),
      found: z.int().meta({ description: 'How many were found in all.' }),
      facets: z.strictObject({ kind: counts, size: counts, colour: counts, supplier: counts }),
      sameNumbers: z.array(SameNumberOut),
      told: z.string().optional().meta({ description: 'Why nothing was found, where nothing could be.' }),
    })
    .meta({ id });

export type SearchQuery = {
  q?: string | undefined;
  size?: string | undefined;
  colour?: string | undefined;
  kind?: string | undefined;
  supplier?: string | undefined;
  part?: string | undefined;
  /** Not in a search. */
  sort?: string | undefined;
  stale?: string | undefined;
  limit: number;
  cursor?: string | undefined;
};

export const isSearch = ({ q, size, colour }: SearchQuery) =>
  q !== undefined || size !== undefined || colour !== undefined;

/** A search of the parts or of the offers. Problems: 422 for too many words, and for a size or colour that is none. */
export async function search<B extends { code: string }>(
  ctx: Ctx,
  thing: 'part' | 'offer',
  store: Pick<Catalogue<B>, 'some'>,
  query: SearchQuery,
  path: string,
): Promise<Reply> {
  const { limit, cursor, q, size, colour, kind, supplier, part } = query;
  refuseUnsearched(thing, query);
  const own = [...notationUnit('size', size, sizesMeant), ...notationUnit('colour', colour, coloursMeant)];
  if (q !== undefined && q.trim().split(/\s+/).length > MOST_WORDS) throw tooMany(q);
  const words = q === undefined ? [[]] : readingsOf(q, synonymsOf(await getSynonyms({ ctx })));
  if (words.some((units) => units.length > MOST_WORDS)) throw tooMany(q ?? '');
  const readings = words.map((units) => [...units, ...own]);
  const isEmpty =
    readings.every((units) => units.length === 0) || (q !== undefined && plainWords(q).length === 0);
  const nothing: Hits = {
    found: 0,
    hits: [],
    more: false,
    facets: { kind: [], size: [], colour: [], supplier: [] },
  };
  const after = placeOf(cursor);
  const result = isEmpty
    ? nothing
    : await findThings({ ctx, input: { thing, readings, limit, after, kind, supplier, part } });
  const codes = result.hits.map(({ code }) => code);
  const bodies = await store.some({ ctx, input: codes });
  const last = result.more ? result.hits.at(-1) : undefined;
  const page = pageReply(
    { items: result.hits, next: last ? `${last.score}:${last.code}` : null },
    ({ code, score, why }) => ({
      item: bodies.get(code),
      score,
      why: why.map(({ said, word, field, how }) => ({ said, word: word.replace(/^:\w+:/, ''), field, how })),
    }),
    path,
    { ...query },
  );
  return {
    ...page,
    body: {
      ...page.body,
      found: result.found,
      facets: result.facets,
      sameNumbers: thing === 'part' ? await sameNumbersOf({ ctx, input: codes }) : [],
      ...(isEmpty ? { told: 'There is no word in this search. Write letters or digits.' } : {}),
    },
  };
}

/** Problem: 422 for what only a plain list can be asked for. */
function refuseUnsearched(thing: 'part' | 'offer', { sort, stale, kind }: SearchQuery): void {
  if (sort !== undefined)
    throw refused(
      'sort',
      'not-with-search',
      sort,
      'What a search finds stands in order of how well it fits. Leave sort out, or list without a search.',
    );
  if (stale !== undefined) throw refused('stale', 'not-with-search', stale, ONLY_LISTED);
  // Only a part has a kind of its own.
  if (thing === 'offer' && kind !== undefined) throw refused('kind', 'not-with-search', kind, ONLY_LISTED);
}

const ONLY_LISTED = 'A search of offers cannot be narrowed by this. Leave it out, or list without a search.';

function notationUnit(name: 'size' | 'colour', text: string | undefined, read: typeof sizesMeant): Unit[] {
  if (text === undefined) return [];
  const meant = read(text);
  if ('labels' in meant) return [asked(text, meant.labels, name)];
  throw refused(name, 'wrong-form', text, `${meant.todo}.`);
}

const PLACE = /^(\d{1,9}):(\S+)$/;

function placeOf(cursor: string | undefined): { score: number; code: string } | undefined {
  if (cursor === undefined) return undefined;
  const [, score, code] = PLACE.exec(Buffer.from(cursor, 'base64url').toString('utf8')) ?? [];
  if (score === undefined || !Code.safeParse(code).success)
    throw refused(
      'cursor',
      'unknown-cursor',
      cursor,
      'Use the cursor from the page before, or leave it out.',
    );
  return { score: Number(score), code: code ?? '' };
}

const tooMany = (q: string) =>
  refused(
    'q',
    'too-many-words',
    q,
    `Search for at most ${MOST_WORDS} words. Leave out the words that matter least.`,
  );

function refused(name: string, code: string, found: string, todo: string): HttpProblem {
  const finding: Finding = {
    code,
    severity: 'stop',
    at: `/${name}`,
    where: `query, ${name}`,
    found: JSON.stringify(found.slice(0, 80)),
    todo,
  };
  return new HttpProblem('not-valid', 'This search cannot be made. Fix what is listed.', {
    findings: [finding],
  });
}

const SynonymsIn = z
  .strictObject({ groups: SynonymGroups })
  .meta({ id: 'SynonymsRequest', description: 'Groups of words that mean the same in your club.' });
const SynonymsOut = z.strictObject({ groups: z.array(z.array(z.string())) }).meta({ id: 'Synonyms' });

function synonymsReply({ groups, version }: Awaited<ReturnType<typeof readSynonyms>>): Reply {
  return { status: 200, body: { groups }, headers: { etag: etagOf(version) } };
}

export const searchRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/parts/same-numbers',
    tag: 'parts',
    role: 'viewer',
    summary: 'List numbers that more than one part has',
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(SameNumberOut, 'Page_same_numbers') } },
    handle: async ({ ctx, query, path }) => {
      const input = pageInput(query, /^[\p{L}\p{N}]{1,40}:[\p{L}\p{N}]{1,40}$/u);
      return pageReply(await listSameNumbers({ ctx, input }), (same) => same, path, query);
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/synonyms',
    tag: 'parts',
    role: 'viewer',
    summary: 'Read the words that a search takes for each other',
    answers: { 200: { description: 'The groups of words.', schema: SynonymsOut } },
    handle: async ({ ctx }) => synonymsReply(await readSynonyms({ ctx })),
  }),
  endpoint({
    method: 'put',
    path: '/v1/synonyms',
    tag: 'parts',
    role: 'editor',
    summary: 'Set the words that a search takes for each other',
    description: 'The groups that are sent take the place of all that there are.',
    body: SynonymsIn,
    ifMatch: true,
    answers: { 200: { description: 'The groups of words.', schema: SynonymsOut } },
    handle: async ({ ctx, body: { groups }, version }) =>
      synonymsReply(await setSynonyms({ ctx, input: { groups, version } })),
  }),
];
