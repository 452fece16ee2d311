import { z } from 'zod';
import type { Entry } from '../../db/catalogue.ts';
import {
  createFit,
  FIT_SORTS,
  getFit,
  listFits,
  removeFit,
  replaceFit,
  type FitName,
} from '../../db/fits.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { Fit, FitRelation, FitStatus } from '../../worker/engine/model/fit.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { namesInFit } from '../http/names.ts';
import { CODE_FORM, pageInput, PageQuery, pageReply, pageSchema, sortQuery } from '../http/paging.ts';
import { differs, HttpProblem } from '../http/problem.ts';
import { AS_CSV, asCsv, CSV, format } from './csv.ts';

export const FitParams = z.strictObject({ from: Code, relation: FitRelation, to: Code });
const FitsQuery = PageQuery.extend({
  ...format,
  ...sortQuery(FIT_SORTS),
  part: Code.optional().meta({ description: 'Only fits of this part, on either side.' }),
  relation: FitRelation.optional().meta({ description: 'Only fits of this relation.' }),
  status: FitStatus.optional().meta({ description: 'Only fits that are so.' }),
});
const filtersOf = ({ part, relation, status }: z.infer<typeof FitsQuery>) => ({ part, relation, status });
const FIT_NAME = new RegExp(`^${CODE_FORM}/(${FitRelation.options.join('|')})/${CODE_FORM}$`);
const PATH = '/v1/fits/{from}/{relation}/{to}';

const answer = { description: 'The fit, with its ETag.', schema: Fit };

function replyWith(status: 200 | 201, { body, version, updatedAt }: Entry<Fit>): Reply {
  const { from, relation, to } = body;
  return {
    status,
    body,
    headers: {
      etag: etagOf(version),
      'last-modified': updatedAt.toUTCString(),
      ...(status === 201 ? { location: `/v1/fits/${from}/${relation}/${to}` } : {}),
    },
  };
}

/** Problem: 422 where the body is of other parts than the path, or of another relation. */
function requireSame(path: FitName, body: FitName): void {
  const findings = (['from', 'relation', 'to'] as const)
    .filter((field) => body[field] !== path[field])
    .map((field) => differs(field, path[field], body[field]));
  if (findings.length > 0)
    throw new HttpProblem(
      'not-valid',
      'The two parts and the relation of a fit cannot be changed. Add a new fit for another pair.',
      { findings },
    );
}

export const fitRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/fits',
    tag: 'fits',
    role: 'viewer',
    cache: 'checked',
    summary: 'List fits by their parts',
    description: AS_CSV,
    query: FitsQuery,
    answers: {
      200: { description: 'A page.', schema: pageSchema(Fit, 'Page_fits'), textTypes: [CSV] },
    },
    instead: asCsv('fits', filtersOf),
    handle: async ({ ctx, query, path }) => {
      const input = { ...pageInput(query, FIT_NAME), filters: filtersOf(query) };
      return pageReply(await listFits({ ctx, input }), (entry) => entry.body, path, query);
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/fits',
    tag: 'fits',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Add a fit',
    description:
      'A member proposes it; an editor says whether it is confirmed or refuted. What is known of two parts of the club. There is one fit for each pair and relation.',
    body: Fit,
    names: namesInFit,
    answers: { 201: answer },
    handle: async ({ ctx, body }) => replyWith(201, await createFit({ ctx, input: body })),
  }),
  endpoint({
    method: 'get',
    path: PATH,
    tag: 'fits',
    role: 'viewer',
    cache: 'checked',
    summary: 'Read a fit',
    params: FitParams,
    answers: { 200: answer },
    handle: async ({ ctx, params }) => replyWith(200, await getFit({ ctx, input: params })),
  }),
  endpoint({
    method: 'put',
    path: PATH,
    tag: 'fits',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Replace a fit',
    params: FitParams,
    body: Fit,
    names: namesInFit,
    ifMatch: true,
    answers: { 200: answer },
    handle: async ({ ctx, params, body, version }) => {
      requireSame(params, body);
      return replyWith(200, await replaceFit({ ctx, input: { body, version } }));
    },
  }),
  endpoint({
    method: 'delete',
    path: PATH,
    tag: 'fits',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Remove a fit',
    description: 'Refused with 409 while it is refuted.',
    params: FitParams,
    ifMatch: true,
    problems: ['conflict'],
    answers: { 204: { description: 'Removed.' } },
    handle: async ({ ctx, params, version }) => {
      await removeFit({ ctx, input: { name: params, version } });
      return { status: 204 };
    },
  }),
];
