import { z } from 'zod';
import {
  addRevision,
  createLoom,
  getRevision,
  listLooms,
  listRevisions,
  LOOM_SORTS,
  removeLoom,
  type StoredRevision,
} from '../../db/looms.ts';
import { setLoomSeenBy } from '../../db/seenBy.ts';
import { Code, Name } from '../../worker/engine/model/code.ts';
import { JobLoom, optionsLeftOut } from '../../worker/engine/model/job.ts';
import { beside, checkReferences, loomContent } from '../../worker/engine/model/loom.ts';
import { withScope } from '../../worker/engine/model/short/form.ts';
import { loomScope } from '../../worker/engine/model/short/scopes.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { namesInLoom } from '../http/names.ts';
import { neverChanges } from '../http/problem.ts';
import { etagOf } from '../http/etag.ts';
import { ownedShape, ownerQuery, SeenByIn, SeenByQuery } from './people.ts';
import { pageInput, PageQuery, pageReply, pageSchema, sortQuery } from '../http/paging.ts';

const CodeParam = z.strictObject({ code: Code });
export const RevisionParam = z.strictObject({
  code: Code,
  revision: z.coerce.number().int().min(1).max(999_999_999),
});

const LoomHead = z
  .strictObject({
    code: Code,
    name: Name,
    latestRevision: z.int(),
    updatedAt: z.iso.datetime(),
    ...ownedShape,
  })
  .meta({ id: 'LoomHead' });

const RevisionHead = z
  .strictObject({ revision: z.int(), createdAt: z.iso.datetime(), createdBy: z.string() })
  .meta({ id: 'RevisionHead' });

const read = {
  revision: z
    .int()
    .min(1)
    .optional()
    .meta({ description: 'The revision as you read it. The revision that is written gets the next number.' }),
  optionsLeftOut: optionsLeftOut.meta({
    description: 'It is allowed here so that a loom from a job can be sent. It is not stored.',
  }),
};

/** What is read of a loom can be sent back as it is. */
const NewLoom = withScope(
  z
    .strictObject({ code: Code, ...read, ...loomContent })
    .superRefine(checkReferences, beside)
    .meta({ id: 'NewLoom' }),
  loomScope,
);

const NextRevision = withScope(
  z
    .strictObject({
      code: Code.optional().meta({ description: 'If you state the code, it must be the one in the path.' }),
      ...read,
      ...loomContent,
    })
    .superRefine(checkReferences, beside)
    .meta({ id: 'NextRevision' }),
  loomScope,
);

const answer = {
  description: 'The loom in one revision, with the ETag that the next change needs.',
  schema: JobLoom,
};

/** A loom as a job file has it; its ETag is its latest revision. */
function replyWith(status: 200 | 201, stored: StoredRevision): Reply {
  return {
    status,
    body: { code: stored.code, revision: stored.revision, ...stored.body },
    headers: {
      etag: etagOf(stored.version),
      'last-modified': stored.createdAt.toUTCString(),
      ...(status === 201 ? { location: `/v1/looms/${stored.code}/revisions/${stored.revision}` } : {}),
    },
  };
}

export const loomRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/looms',
    tag: 'looms',
    role: 'viewer',
    cache: 'checked',
    summary: 'List looms by code',
    query: PageQuery.extend({ ...sortQuery(LOOM_SORTS), ...ownerQuery }),
    answers: { 200: { description: 'A page.', schema: pageSchema(LoomHead, 'Page_looms') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(
        await listLooms({ ctx, input: { ...pageInput(query), owner: query.owner } }),
        ({ updatedAt, owner, ...head }) => ({
          ...head,
          updatedAt: updatedAt.toISOString(),
          ...(owner === null ? {} : { owner }),
        }),
        path,
        query,
      ),
  }),
  endpoint({
    method: 'post',
    path: '/v1/looms',
    tag: 'looms',
    role: 'member',
    summary: 'Add a loom with its first revision',
    description:
      'It is yours where your key belongs to a member. With the role member you can add looms of your own; a key of no member then cannot: 403.',
    query: SeenByQuery,
    body: NewLoom,
    names: namesInLoom,
    answers: { 201: answer },
    handle: async ({ ctx, query, body: { revision: _read, optionsLeftOut: _away, ...body } }) =>
      replyWith(201, await createLoom({ ctx, input: body, ...query })),
  }),
  endpoint({
    method: 'get',
    path: '/v1/looms/{code}',
    tag: 'looms',
    role: 'viewer',
    cache: 'checked',
    summary: 'Read a loom in its latest revision',
    params: CodeParam,
    answers: { 200: answer },
    handle: async ({ ctx, params }) => replyWith(200, await getRevision({ ctx, input: params })),
  }),
  endpoint({
    method: 'delete',
    path: '/v1/looms/{code}',
    tag: 'looms',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Remove a loom with all its revisions',
    description: 'Refused with 409 if the loom has quotes.',
    params: CodeParam,
    ifMatch: true,
    answers: { 204: { description: 'Removed.' } },
    problems: ['conflict'],
    handle: async ({ ctx, params, version }) => {
      await removeLoom({ ctx, input: { code: params.code, latest: version } });
      return { status: 204 };
    },
  }),
  endpoint({
    method: 'put',
    path: '/v1/looms/{code}/seen-by',
    tag: 'looms',
    role: 'member',
    roleForOthers: 'nobody',
    summary: 'Say who sees a loom of your own',
    description:
      'Only its owner can say so. What the club has in quotes cannot be hidden: 409. What was done while you alone saw it stays seen by you alone in the record.',
    params: CodeParam,
    body: SeenByIn,
    problems: ['conflict'],
    answers: { 200: { description: 'Who sees it now.', schema: SeenByIn } },
    handle: async ({ ctx, params, body }) => {
      await setLoomSeenBy({ ctx, input: { ...params, ...body } });
      return { status: 200, body };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/looms/{code}/revisions',
    tag: 'looms',
    role: 'viewer',
    cache: 'checked',
    summary: 'List a loom’s revisions, latest first',
    params: CodeParam,
    answers: {
      200: {
        description: 'All revisions.',
        schema: z.strictObject({ items: z.array(RevisionHead) }).meta({ id: 'Revisions' }),
      },
    },
    handle: async ({ ctx, params }) => {
      const items = await listRevisions({ ctx, input: params });
      return {
        status: 200,
        body: { items: items.map((item) => ({ ...item, createdAt: item.createdAt.toISOString() })) },
      };
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/looms/{code}/revisions',
    tag: 'looms',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Add the next revision of a loom',
    description:
      'A stored revision never changes. A change is a new revision. If-Match names the latest revision that you read.',
    params: CodeParam,
    body: NextRevision,
    names: namesInLoom,
    ifMatch: true,
    answers: { 201: answer },
    handle: async ({
      ctx,
      params,
      body: { code, revision: _read, optionsLeftOut: _away, ...body },
      version,
    }) => {
      if (code !== undefined && code !== params.code) throw neverChanges('code', params.code, code);
      return replyWith(201, await addRevision({ ctx, input: { code: params.code, latest: version, body } }));
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/looms/{code}/revisions/{revision}',
    tag: 'looms',
    role: 'viewer',
    cache: 'checked',
    summary: 'Read one revision of a loom',
    params: RevisionParam,
    answers: { 200: answer },
    handle: async ({ ctx, params }) => replyWith(200, await getRevision({ ctx, input: params })),
  }),
];
