import {
  createDocument,
  type ZodOpenApiOverrideContext,
  type ZodOpenApiOperationObject,
  type ZodOpenApiPathsObject,
  type ZodOpenApiResponsesObject,
} from 'zod-openapi';
import { safeParse, type z } from 'zod';
import { shortFormOf } from '../../worker/engine/model/short/form.ts';
import { typesOf, type AnswerDoc, type AnyEndpoint } from './endpoint.ts';
import { Problem, PROBLEM_TYPE, statusOf, type ProblemKind } from './problem.ts';

/** The OpenAPI 3.1 document, out of the same schemas that requests are checked with. */
export function openApiDocument(
  endpoints: readonly AnyEndpoint[],
  open: ZodOpenApiPathsObject,
  publicUrl = '',
): object {
  const paths: ZodOpenApiPathsObject = { ...open };
  for (const endpoint of endpoints)
    paths[endpoint.path] = { ...paths[endpoint.path], [endpoint.method]: operation(endpoint) };
  return createDocument(
    {
      openapi: '3.1.0',
      info: {
        title: 'Loomwright',
        version: '1',
        description: 'Parts sourcing and costing for rebuilding the wiring looms of old vehicles.',
        contact: { name: 'Who runs this server' },
        license: { name: 'All rights reserved', identifier: 'LicenseRef-all-rights-reserved' },
      },
      servers: [{ url: publicUrl === '' ? '/' : publicUrl, description: 'This server.' }],
      security: [{ key: [] }],
      tags: Object.entries(TAGS).map(([name, description]) => ({ name, description })),
      paths,
      components: {
        securitySchemes: { key: { type: 'http', scheme: 'bearer', description: 'A key of your club, lw_…' } },
      },
    },
    {
      override: (context) => {
        withDefaults(context);
        withoutMore(context);
        withShortForm(context);
      },
    },
  );
}

/** What the calls of each tag are for, in the order in which a page shows them. */
const TAGS = {
  quotes: 'What to buy where, what it costs, and the proof; with order lists, sheets and winning prices.',
  orders: 'Order lists of accepted quotes, what came of them, and what they cost.',
  looms: 'What is to be rebuilt, in numbered revisions that never change; with their checks and tables.',
  parts: 'The catalogue: wires, terminals, sleeves and all else that a loom is made of.',
  fits: 'Which parts go together, and which may stand in for another.',
  proposals: 'What members put in and no editor has confirmed yet.',
  suppliers: 'Who sells, and what they ask for postage.',
  offers: 'What suppliers sell, in which packs and at what price.',
  rates: 'Rates of exchange into the currency of the club.',
  lanes: 'Tax, duty and fees from one country to another.',
  stock: 'What the club has on its shelf.',
  tasks: 'How far the work in the background is.',
  club: 'The terms of the club, and all that it has as one archive.',
  members: 'The people of the club, how they join, and how they leave.',
  keys: 'With what they call.',
  record: 'Who did what and when, with what was before and after.',
  service: 'How the server is, and what it can do. These calls need no key.',
};

/** The example of what is read has what a request may leave out. */
function withDefaults({ jsonSchema, zodSchema, io }: ZodOpenApiOverrideContext): void {
  if (io !== 'output' || jsonSchema.example === undefined) return;
  const read = safeParse(zodSchema, jsonSchema.example);
  if (read.success) jsonSchema.example = read.data;
  else delete jsonSchema.example;
}

/** A list of which each place has its own schema: no more places is said by their number, which every reader understands. */
function withoutMore({ jsonSchema }: ZodOpenApiOverrideContext): void {
  const { prefixItems } = jsonSchema;
  if (!prefixItems) return;
  jsonSchema.items = {};
  jsonSchema.minItems = prefixItems.length;
  jsonSchema.maxItems = prefixItems.length;
}

/** Where a request may have a short form in place of a long one, its schema says so. */
function withShortForm({ jsonSchema, zodSchema, io }: ZodOpenApiOverrideContext): void {
  const form = io === 'input' ? shortFormOf(zodSchema) : undefined;
  if (!form) return;
  const { description, example, id: _id, ...long } = jsonSchema as typeof jsonSchema & { id?: string };
  for (const key of Object.keys(jsonSchema))
    if (key !== 'id') delete jsonSchema[key as keyof typeof jsonSchema];
  Object.assign(jsonSchema, {
    ...(description === undefined ? {} : { description }),
    ...(example === undefined ? {} : { example }),
    anyOf: [long, { type: ['string', 'number'], description: 'Short form.', examples: [...form.examples] }],
  });
}

/** In OpenAPI 3.1 bytes have no schema. */
const BYTES = {};

function operation(endpoint: AnyEndpoint): ZodOpenApiOperationObject {
  const problems = new Set<ProblemKind>([
    ...('open' in endpoint ? (['not-found'] as const) : (['unauthorized', 'forbidden'] as const)),
    'not-valid',
    'too-many-requests',
    'internal',
    'database-away',
    ...(endpoint.method === 'get' ? [] : (['outcome-unknown', 'storage-full'] as const)),
    ...(endpoint.problems ?? []),
  ]);
  if (typesOf(endpoint).length > 0) problems.add('not-acceptable');
  if (endpoint.params) problems.add('not-found');
  if (endpoint.ifMatch) problems.add('stale');
  if (endpoint.ifMatch === true) problems.add('if-match-needed');
  if (endpoint.bytesBody !== undefined || endpoint.table)
    for (const kind of ['too-large', 'unsupported-media-type'] as const) problems.add(kind);
  if (endpoint.body)
    for (const kind of ['malformed-json', 'too-large', 'unsupported-media-type'] as const) problems.add(kind);
  if (endpoint.method === 'post')
    for (const kind of ['malformed-request', 'conflict', 'key-reused'] as const) problems.add(kind);
  const responses: Record<string, unknown> = {};
  for (const [status, answer] of Object.entries(endpoint.answers)) responses[status] = response(answer);
  if (endpoint.method === 'get' && !('stream' in endpoint) && !('raw' in endpoint))
    responses['304'] = { description: 'It has not changed since the ETag in If-None-Match.' };
  for (const kind of problems) responses[String(statusOf(kind))] = problemAnswer();
  return {
    operationId: operationId(endpoint),
    tags: [endpoint.tag],
    summary: endpoint.summary,
    description: [endpoint.description, neededOf(endpoint)].filter(Boolean).join('\n\n'),
    ...('open' in endpoint ? { security: [] } : { 'x-least-role': endpoint.role }),
    ...(endpoint.roleForOthers === undefined ? {} : { 'x-least-role-for-others': endpoint.roleForOthers }),
    ...(endpoint.params || endpoint.query
      ? {
          requestParams: {
            ...(endpoint.params ? { path: endpoint.params as z.ZodObject } : {}),
            ...(endpoint.query ? { query: endpoint.query as z.ZodObject } : {}),
          },
        }
      : {}),
    ...headerParameters(endpoint),
    ...(endpoint.body || endpoint.table
      ? {
          requestBody: {
            required: true,
            content: {
              ...(endpoint.body ? { 'application/json': { schema: endpoint.body } } : {}),
              ...(endpoint.table ? { 'text/csv': BYTES } : {}),
            },
          },
        }
      : {}),
    ...(endpoint.bytesBody === undefined
      ? {}
      : { requestBody: { required: true, content: { [endpoint.bytesBody]: BYTES } } }),
    responses: responses as ZodOpenApiResponsesObject,
  };
}

/** Who may call it, in a sentence. */
function neededOf({ role, roleForOthers }: AnyEndpoint): string {
  if (role === undefined) return 'Needs no key.';
  const needed = `Needs a key with the role ${role} or higher.`;
  if (roleForOthers === 'nobody') return `${needed} Only for what is your own.`;
  return roleForOthers === undefined
    ? needed
    : `${needed} For what is not your own: ${roleForOthers} or higher.`;
}

function headerParameters(endpoint: AnyEndpoint): Pick<ZodOpenApiOperationObject, 'parameters'> | object {
  const header = (name: string, required: boolean, description: string) =>
    ({ in: 'header', name, required, description, schema: { type: 'string' } }) as const;
  const parameters = [
    ...(endpoint.ifMatch ? [header('If-Match', endpoint.ifMatch === true, 'The ETag that you read.')] : []),
    ...(endpoint.method === 'post' && endpoint.once !== false
      ? [
          header(
            'Idempotency-Key',
            false,
            'If you repeat the request with the same key, you get the same answer and nothing is done twice.',
          ),
        ]
      : []),
    ...('stream' in endpoint
      ? [header('Last-Event-ID', false, 'The id of the last event that you received.')]
      : []),
  ];
  return parameters.length > 0 ? { parameters } : {};
}

function response(answer: AnswerDoc) {
  const content = {
    ...(answer.schema ? { 'application/json': { schema: answer.schema } } : {}),
    ...Object.fromEntries(
      (answer.textTypes ?? []).map((type) => [type, { schema: { type: 'string' as const } }]),
    ),
    ...(answer.bytesType === undefined ? {} : { [answer.bytesType]: BYTES }),
  };
  return { description: answer.description, ...(Object.keys(content).length > 0 ? { content } : {}) };
}

export function problemAnswer() {
  return { description: 'A problem.', content: { [PROBLEM_TYPE]: { schema: Problem } } };
}

function operationId(endpoint: AnyEndpoint): string {
  const words = endpoint.path.split('/').filter((word) => word !== '' && word !== 'v1');
  const named = words.map((word) => (word.startsWith('{') ? `By-${word.slice(1, -1)}` : word)).join('-');
  return `${endpoint.method}-${named}`.replace(/-+(\w)/g, (_match, letter: string) => letter.toUpperCase());
}
