import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import type { Catalogue, Entry } from '../../db/catalogue.ts';
import { Moved } from '../../db/errors.ts';
import { lanes } from '../../db/lanes.ts';
import { offers } from '../../db/offers.ts';
import { parts } from '../../db/parts.ts';
import { ownCurrencyFaults, rates } from '../../db/rates.ts';
import { stock } from '../../db/stock.ts';
import { correctPrice, keepOlder } from '../../db/seenOffers.ts';
import { suppliers } from '../../db/suppliers.ts';
import type { Changeable } from '../../db/version.ts';
import { Code, Country } from '../../worker/engine/model/code.ts';
import { Lane } from '../../worker/engine/model/lane.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { Rate } from '../../worker/engine/model/rate.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import type { Caching } from '../http/caching.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { pageInput, PageQuery, pageReply, pageSchema, sortQuery } from '../http/paging.ts';
import { namesInOffer, namesInStock, type NamesIn, type WrongIn } from '../http/names.ts';
import { neverChanges } from '../http/problem.ts';
import { foundSchema, isSearch, search, searchQuery, type SearchQuery } from './search.ts';
import { AS_CSV, asCsv, CSV, format } from './csv.ts';

const PartKind = z.enum(Part.options.map((one) => one.shape.kind.value));
const CodeParam = z.strictObject({ code: Code });

type FilterName = 'kind' | 'supplier' | 'part' | 'stale' | 'country' | 'currency' | 'from' | 'to';
type ListQuery = SearchQuery & { format?: 'json' | 'csv' | 'template' | undefined } & Partial<
    Record<FilterName, string | undefined>
  >;

interface Resource<B extends { code: string }> {
  name: 'parts' | 'suppliers' | 'offers' | 'rates' | 'lanes' | 'stock';
  /** With its article. */
  a: string;
  /** How long what is read may be kept; never, where it has prices. */
  cache?: Caching;
  /** What needs an entry, so that it is not removed; nothing where none is stated. */
  neededBy?: string;
  schema: z.ZodType<B>;
  names?: NamesIn;
  wrong?: WrongIn;
  /** What a member may add, and then change: what they propose, until an editor confirms it, or what is their own. */
  byMembers?: 'proposed' | 'own';
  /** What else a list can be asked for: names of the store's filters. */
  filters?: Readonly<Partial<Record<FilterName, z.ZodType<string | undefined>>>>;
  /** What a search of them is of; a list of those that have none is never searched. */
  searched?: 'part' | 'offer';
  store: Catalogue<B>;
  /** What a replacement can be asked for in its query, and what comes before it; an entry: it takes the replacement's place. */
  put?: {
    query: z.ZodType;
    before: (ctx: Ctx, body: B, version: Changeable, query: unknown) => Promise<Entry<B> | undefined>;
  };
}

function replyWith<B extends { code: string }>(status: 200 | 201, name: string, entry: Entry<B>): Reply {
  return {
    status,
    body: entry.body,
    headers: {
      etag: etagOf(entry.version),
      'last-modified': entry.updatedAt.toUTCString(),
      ...(status === 201 ? { location: `/v1/${name}/${entry.body.code}` } : {}),
    },
  };
}

const MOVED =
  'The part was merged into another one, which the Location header names. It leads there for ever.';
const MovedPart = z.strictObject({ code: Code, mergedInto: Code }).meta({
  id: 'MovedPart',
  description: 'A part that was merged into another one.',
});

function movedReply(name: string, { code, to }: Moved): Reply {
  return { status: 308, body: { code, mergedInto: to }, headers: { location: `/v1/${name}/${to}` } };
}

/** Wire parts that an offer names by size and colour are added with it. */
async function addMade(ctx: Ctx, made: readonly Part[]): Promise<void> {
  for (const part of made) await parts.create({ ctx, input: part });
}

/** The five calls that all entries with a code share: the body is the entry itself, in the shape of a job file. */
function resource<B extends { code: string }>({
  name,
  a,
  cache = 'never',
  neededBy,
  schema,
  names,
  wrong,
  byMembers,
  filters = {},
  searched,
  store,
  put,
}: Resource<B>): Endpoint[] {
  const path = `/v1/${name}`;
  const one = `${path}/{code}`;
  const the = a.replace(/^an?/, 'The');
  const page = pageSchema(schema, `Page_${name}`);
  const answer = { description: `${the}, with its ETag.`, schema };
  const least = byMembers ? 'member' : 'editor';
  const others = byMembers ? ({ roleForOthers: 'editor' } as const) : {};
  const moves = name === 'parts' ? { 308: { description: MOVED, schema: MovedPart } } : {};
  const filtersOf = (query: ListQuery) =>
    Object.fromEntries((Object.keys(filters) as FilterName[]).map((each) => [each, query[each]]));
  const body = { body: schema, ...(names ? { names } : {}), ...(wrong ? { wrong } : {}) };
  return [
    endpoint({
      method: 'get',
      path,
      tag: name,
      role: 'viewer',
      summary: `List ${name} by code`,
      description: AS_CSV,
      // Which of them a list takes depends on what it is of.
      query: PageQuery.extend({
        ...format,
        ...sortQuery(store.sorts),
        ...filters,
        ...(searched ? searchQuery : {}),
      }) as unknown as z.ZodType<ListQuery>,
      cache,
      answers: {
        200: {
          description: 'A page.',
          schema: searched ? z.union([page, foundSchema(schema, `Found_${name}`)]) : page,
          textTypes: [CSV],
        },
      },
      instead: asCsv(name, filtersOf),
      handle: async ({ ctx, query, path }) => {
        if (searched && isSearch(query)) return search(ctx, searched, store, query, path);
        const page = await store.list({ ctx, input: { ...pageInput(query), filters: filtersOf(query) } });
        return pageReply(page, (entry) => entry.body, path, query);
      },
    }),
    endpoint({
      method: 'post',
      path,
      tag: name,
      role: least,
      ...others,
      summary: `Add ${a}`,
      ...body,
      answers: { 201: answer },
      handle: async ({ ctx, body, made }) => {
        await addMade(ctx, made);
        return replyWith(201, name, await store.create({ ctx, input: body }));
      },
    }),
    endpoint({
      method: 'get',
      path: one,
      tag: name,
      role: 'viewer',
      summary: `Read ${a}`,
      params: CodeParam,
      cache,
      answers: { 200: answer, ...moves },
      handle: async ({ ctx, params }) => {
        try {
          return replyWith(200, name, await store.get({ ctx, input: params }));
        } catch (error) {
          if (!(error instanceof Moved)) throw error;
          return movedReply(name, error);
        }
      },
    }),
    endpoint({
      method: 'put',
      path: one,
      tag: name,
      role: least,
      ...others,
      summary: `Replace ${a}`,
      params: CodeParam,
      ...(put ? { query: put.query } : {}),
      ...body,
      ifMatch: true,
      problems: ['conflict'],
      answers: { 200: answer },
      handle: async ({ ctx, params, query, body, version, made }) => {
        await addMade(ctx, made);
        if (body.code !== params.code) throw neverChanges('code', params.code, body.code);
        const instead = await put?.before(ctx, body, version, query);
        if (instead) return replyWith(200, name, instead);
        return replyWith(200, name, await store.replace({ ctx, input: { body, version } }));
      },
    }),
    endpoint({
      method: 'delete',
      path: one,
      tag: name,
      role: least,
      ...others,
      summary: `Remove ${a}`,
      ...(neededBy === undefined ? {} : { description: `Refused with 409 while ${neededBy} uses it.` }),
      params: CodeParam,
      ifMatch: true,
      answers: { 204: { description: 'Removed.' } },
      problems: ['conflict'],
      handle: async ({ ctx, params, version }) => {
        await store.remove({ ctx, input: { code: params.code, version } });
        return { status: 204 };
      },
    }),
  ];
}

const OlderQuery = z.strictObject({
  older: z.enum(['keep', 'correct']).optional().meta({
    description:
      'For a price that was seen before the stored one. keep: it is kept as a past price, and the offer stays as it is. correct: the stored price or its day was wrong, and this takes its place in the price history. Left out: it is refused.',
  }),
});

/** What becomes of an offer that was seen before the stored price. */
async function beforeOffer(
  ctx: Ctx,
  body: Offer,
  version: Changeable,
  query: unknown,
): Promise<Entry<Offer> | undefined> {
  const { older } = OlderQuery.parse(query);
  if (older === 'keep') return keepOlder({ ctx, input: { body, version } });
  if (older === 'correct') await correctPrice({ ctx, input: { code: body.code, version } });
  return undefined;
}

export const catalogueRoutes: Endpoint[] = [
  ...resource({
    name: 'parts',
    a: 'a part',
    cache: 'checked',
    neededBy: 'an offer, a fit, a stock item or a loom',
    schema: Part,
    byMembers: 'proposed',
    filters: { kind: PartKind.optional().meta({ description: 'Only parts of this kind.' }) },
    searched: 'part',
    store: parts,
  }),
  ...resource({
    name: 'suppliers',
    a: 'a supplier',
    neededBy: 'an offer',
    schema: Supplier,
    filters: { country: Country.optional().meta({ description: 'Only suppliers in this country.' }) },
    store: suppliers,
  }),
  ...resource({
    name: 'offers',
    a: 'an offer',
    schema: Offer,
    names: namesInOffer,
    byMembers: 'proposed',
    filters: {
      supplier: Code.optional().meta({ description: 'Only offers of this supplier.' }),
      part: Code.optional().meta({ description: 'Only offers that sell this part.' }),
      kind: PartKind.optional().meta({
        description: 'Only offers that sell a part of this kind. Not in a search.',
      }),
      stale: z.coerce.number().int().min(0).max(36_500).transform(String).optional().meta({
        description: 'Only offers that were not seen for so many days, or state no day. Not in a search.',
      }),
    },
    searched: 'offer',
    store: offers,
    put: { query: OlderQuery, before: beforeOffer },
  }),
  ...resource({
    name: 'rates',
    a: 'a rate',
    schema: Rate,
    wrong: ownCurrencyFaults,
    filters: { currency: Currency.optional().meta({ description: 'Only rates of this currency.' }) },
    store: rates,
  }),
  ...resource({
    name: 'lanes',
    a: 'a lane',
    schema: Lane,
    filters: {
      from: Country.optional().meta({ description: 'Only lanes from this country.' }),
      to: Country.optional().meta({ description: 'Only lanes to this country.' }),
    },
    store: lanes,
  }),
  ...resource({
    name: 'stock',
    a: 'a stock item',
    schema: StockItem,
    names: namesInStock,
    byMembers: 'own',
    filters: { part: Code.optional().meta({ description: 'Only stock of this part.' }) },
    store: stock,
  }),
];
