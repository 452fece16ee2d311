import { z } from 'zod';
import { aboutEntry, aboutFit, aboutLoom, type About, type AboutKind } from '../../db/about.ts';
import { listRecord, type Recorded } from '../../db/record.ts';
import { Code, Day } from '../../worker/engine/model/code.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { FitParams } from './fits.ts';
import { ownedShape } from './people.ts';

const DAY_MS = 86_400_000;
const moment = z.iso.datetime();

const RecordQuery = PageQuery.extend({
  // A row may hold a whole loom, twice.
  limit: PageQuery.shape.limit.unwrap().max(100).default(20),
  thing: z.string().max(500).optional().meta({
    description: 'Only what was done to this: its kind and its name.',
    example: 'part:ring-6',
  }),
  person: z.uuid().optional().meta({ description: 'Only what this member did, or this key: its id.' }),
  action: z
    .string()
    .max(100)
    .optional()
    .meta({ description: 'Only what was done so.', example: 'part.replace' }),
  from: Day.optional().meta({ description: 'From this day on, in UTC.' }),
  to: Day.optional().meta({ description: 'Up to the end of this day, in UTC.' }),
});

const what = z.unknown().optional();
const RecordRow = z
  .strictObject({
    id: z.uuid(),
    at: moment,
    who: z.string().meta({
      description: 'The name of the member, the label of a key of no member, or the service.',
    }),
    member: z.uuid().optional(),
    action: z.string().meta({ example: 'part.replace' }),
    what: z.string().meta({ description: 'The same in words.', example: 'part changed' }),
    thing: z.string().meta({ example: 'part:ring-6' }),
    subject: z.string().meta({ description: 'Its name; of a loom with the revision.', example: 'ring-6' }),
    before: what.meta({ description: 'What was before, where something was.' }),
    after: what.meta({ description: 'What is since, where something is.' }),
    requestId: z.string(),
    seenBy: ownedShape.seenBy,
  })
  .meta({ id: 'RecordRow', description: 'Who did what and when. Rows are added and never change.' });

const VERBS: Record<string, string> = {
  create: 'added',
  replace: 'changed',
  change: 'changed',
  remove: 'removed',
  revise: 'revised',
  terms: 'terms set',
  ask: 'asked for',
  cancel: 'cancelled',
  revoke: 'revoked',
  end: 'withdrawn',
  use: 'used',
  join: 'joined',
  leave: 'left',
  'seen-by': 'shown or hidden',
  import: 'imported',
};

function inWords(action: string): string {
  const [thing = '', verb = ''] = action.split('.');
  return `${thing} ${VERBS[verb] ?? verb}`.replaceAll('-', ' ');
}

/** The only way out for a row of the record. */
function presentRecorded({ row, who }: Recorded): z.infer<typeof RecordRow> {
  return {
    id: row.id,
    at: row.at.toISOString(),
    who,
    ...(row.memberId === null ? {} : { member: row.memberId }),
    action: row.action,
    what: inWords(row.action),
    thing: row.thing,
    subject: row.subject,
    ...(row.before === null ? {} : { before: row.before }),
    ...(row.after === null ? {} : { after: row.after }),
    requestId: row.requestId,
    seenBy: row.privateTo === null ? 'club' : 'owner',
  };
}

const aboutShape = {
  createdAt: moment,
  createdBy: z.string().optional().meta({
    description: 'Who put it in: a member’s name, or the label of a key. Left out: before members were kept.',
  }),
  updatedAt: moment,
  updatedBy: z.string().optional().meta({ description: 'Who last changed it, likewise.' }),
};
const AboutOut = z.strictObject(aboutShape).meta({ id: 'About' });
const AboutLoom = z.strictObject({ ...aboutShape, ...ownedShape }).meta({ id: 'AboutLoom' });

function presentAbout({ createdAt, createdBy, updatedAt, updatedBy }: About): z.infer<typeof AboutOut> {
  return {
    createdAt: createdAt.toISOString(),
    ...(createdBy === null ? {} : { createdBy }),
    updatedAt: updatedAt.toISOString(),
    ...(updatedBy === null ? {} : { updatedBy }),
  };
}

const CodeParam = z.strictObject({ code: Code });
const WHO = 'Read who put it in and who last changed it';
const DONE_BY = 'All that was done to it: GET /v1/record?thing=… (for editors).';

const ENTRIES: readonly [AboutKind, string][] = [
  ['parts', 'part'],
  ['suppliers', 'supplier'],
  ['offers', 'offer'],
  ['rates', 'rate'],
  ['lanes', 'lane'],
  ['stock', 'stock item'],
];

export const recordRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/record',
    tag: 'record',
    role: 'editor',
    summary: 'Read who did what and when, newest first',
    description:
      'Each row has what was before and what is since. Rows are only added. What was done to something that its owner alone sees is in the record of the owner alone.',
    query: RecordQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(RecordRow, 'Page_record') } },
    handle: async ({ ctx, query, path }) => {
      const { thing, person, action, from, to } = query;
      const input = {
        ...pageInput(query, MADE_ID),
        thing,
        person,
        action,
        from: from === undefined ? undefined : new Date(from),
        until: to === undefined ? undefined : new Date(Date.parse(to) + DAY_MS),
      };
      return pageReply(await listRecord({ ctx, input }), presentRecorded, path, query);
    },
  }),
  ...ENTRIES.map(([kind, word]) =>
    endpoint({
      method: 'get',
      path: `/v1/${kind}/{code}/about`,
      tag: kind,
      role: 'viewer',
      summary: `${WHO}: a ${word}`,
      description: DONE_BY,
      params: CodeParam,
      answers: { 200: { description: 'Who and when.', schema: AboutOut } },
      handle: async ({ ctx, params: { code } }) => ({
        status: 200,
        body: presentAbout(await aboutEntry({ ctx, input: { kind, code } })),
      }),
    }),
  ),
  endpoint({
    method: 'get',
    path: '/v1/fits/{from}/{relation}/{to}/about',
    tag: 'fits',
    role: 'viewer',
    summary: `${WHO}: a fit`,
    description: DONE_BY,
    params: FitParams,
    answers: { 200: { description: 'Who and when.', schema: AboutOut } },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: presentAbout(await aboutFit({ ctx, input: params })),
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/looms/{code}/about',
    tag: 'looms',
    role: 'viewer',
    summary: `${WHO}, whose it is and who sees it: a loom`,
    description: DONE_BY,
    params: CodeParam,
    answers: { 200: { description: 'Who and when.', schema: AboutLoom } },
    handle: async ({ ctx, params }) => {
      const about = await aboutLoom({ ctx, input: params });
      const { owner, seenBy } = about;
      const body = { ...presentAbout(about), ...(owner === null ? {} : { owner }), seenBy };
      return { status: 200, body };
    },
  }),
];
