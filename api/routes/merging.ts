import { z } from 'zod';
import { mergeParts, previewMerge } from '../../db/merge.ts';
import { usesOf } from '../../db/uses.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { FitRelation } from '../../worker/engine/model/fit.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';

const CodeParam = z.strictObject({ code: Code });
const Into = z.strictObject({ into: Code.meta({ description: 'The code of the part that stays.' }) });
const codes = z.array(Code);
const uses = {
  offers: codes.meta({ description: 'Offers that sell it, alone or in a kit.' }),
  kits: codes.meta({ description: 'Those of the offers that are kits.' }),
  fits: z.array(z.strictObject({ from: Code, relation: FitRelation, to: Code })),
  stock: codes.meta({ description: 'Stock items of it.' }),
  standIns: codes.meta({ description: 'Parts that state that they stand in for it.' }),
  looms: z
    .array(z.strictObject({ loom: Code, revisions: z.array(z.int().min(1)), latest: z.boolean() }))
    .meta({ description: 'Looms with their revisions that name it, and whether the latest one does.' }),
  privateLooms: z.int().min(0).meta({ description: 'How many further looms are private to others.' }),
  quotes: z.int().min(0).meta({ description: 'How many quotes that you see were made of such revisions.' }),
};
const Uses = z.strictObject(uses).meta({ id: 'Uses', description: 'What names a part.' });
const Merge = z
  .strictObject({
    part: Code,
    into: Code,
    ...uses,
    clashes: z.array(z.string()).meta({ description: 'What is more than another code, in sentences.' }),
  })
  .meta({ id: 'Merge', description: 'What refers to a part that is merged into another one.' });

export const mergingRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/parts/{code}/uses',
    tag: 'parts',
    role: 'viewer',
    summary: 'List what uses a part',
    params: CodeParam,
    answers: { 200: { description: 'What names the part.', schema: Uses } },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => ({ status: 200, body: await usesOf({ ctx, input: params }) }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/parts/{code}/merge',
    tag: 'parts',
    role: 'viewer',
    summary: 'Look at what a merge would change',
    params: CodeParam,
    query: Into,
    answers: { 200: { description: 'What it would change. Nothing is changed.', schema: Merge } },
    problems: ['conflict'],
    handle: async ({ ctx, params: { code }, query: { into } }) => ({
      status: 200,
      body: await previewMerge({ ctx, input: { part: code, into } }),
    }),
  }),
  endpoint({
    method: 'post',
    path: '/v1/parts/{code}/merge',
    tag: 'parts',
    role: 'editor',
    summary: 'Merge a part into another one',
    description:
      'Everything that names the part names the other one afterwards. Revisions of looms and quotes stay as they are, and are read with the new code. The old code leads to the new one for ever.',
    params: CodeParam,
    body: Into,
    ifMatch: true,
    answers: { 200: { description: 'What it changed.', schema: Merge } },
    problems: ['conflict'],
    handle: async ({ ctx, params: { code }, body: { into }, version }) => ({
      status: 200,
      body: await mergeParts({ ctx, input: { part: code, into, version } }),
    }),
  }),
];
