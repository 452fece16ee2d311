import { z } from 'zod';
import type { Catalogue, Entry } from '../../db/catalogue.ts';
import { offers } from '../../db/offers.ts';
import { parts } from '../../db/parts.ts';
import { suppliers } from '../../db/suppliers.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { namesInOffer, type NamesIn } from '../http/names.ts';
import { neverChanges } from '../http/problem.ts';

const CodeParam = z.strictObject({ code: Code });

interface Resource<B extends { code: string }> {
  name: 'parts' | 'suppliers' | 'offers';
  word: string;
  schema: z.ZodType<B>;
  names?: NamesIn;
  store: Catalogue<B>;
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

/** The five calls that parts, suppliers and offers share: the body is the entry itself, in the shape of a job file. */
function resource<B extends { code: string }>({ name, word, schema, names, store }: Resource<B>): Endpoint[] {
  const path = `/v1/${name}`;
  const one = `${path}/{code}`;
  const answer = { description: `The ${word}, with its ETag.`, schema };
  return [
    endpoint({
      method: 'get',
      path,
      tag: name,
      role: 'viewer',
      summary: `List ${name} by code`,
      query: PageQuery,
      answers: { 200: { description: 'A page.', schema: pageSchema(schema, `Page_${name}`) } },
      handle: async ({ ctx, query, path }) => {
        const page = await store.list({ ctx, input: pageInput(query) });
        return pageReply(page, (entry) => entry.body, path, query);
      },
    }),
    endpoint({
      method: 'post',
      path,
      tag: name,
      role: 'editor',
      summary: `Add ${name === 'offers' ? 'an' : 'a'} ${word}`,
      body: schema,
      ...(names ? { names } : {}),
      answers: { 201: answer },
      handle: async ({ ctx, body }) => replyWith(201, name, await store.create({ ctx, input: body })),
    }),
    endpoint({
      method: 'get',
      path: one,
      tag: name,
      role: 'viewer',
      summary: `Read ${name === 'offers' ? 'an' : 'a'} ${word}`,
      params: CodeParam,
      answers: { 200: answer },
      handle: async ({ ctx, params }) => replyWith(200, name, await store.get({ ctx, input: params })),
    }),
    endpoint({
      method: 'put',
      path: one,
      tag: name,
      role: 'editor',
      summary: `Replace ${name === 'offers' ? 'an' : 'a'} ${word}`,
      params: CodeParam,
      body: schema,
      ...(names ? { names } : {}),
      ifMatch: true,
      problems: ['conflict'],
      answers: { 200: answer },
      handle: async ({ ctx, params, body, version }) => {
        if (body.code !== params.code) throw neverChanges('code', params.code, body.code);
        return replyWith(200, name, await store.replace({ ctx, input: { body, version } }));
      },
    }),
    endpoint({
      method: 'delete',
      path: one,
      tag: name,
      role: 'editor',
      summary: `Remove ${name === 'offers' ? 'an' : 'a'} ${word}`,
      description: `Refused with 409 while something else needs the ${word}.`,
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

export const catalogueRoutes: Endpoint[] = [
  ...resource({ name: 'parts', word: 'part', schema: Part, store: parts }),
  ...resource({ name: 'suppliers', word: 'supplier', schema: Supplier, store: suppliers }),
  ...resource({ name: 'offers', word: 'offer', schema: Offer, names: namesInOffer, store: offers }),
];
