import { z } from 'zod';
import { confirm, getStanding, listProposals, type Confirmable, type Stands } from '../../db/proposals.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { Fit, FitRelation } from '../../worker/engine/model/fit.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { CODE_FORM, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';

const by = z
  .union([z.string(), z.null()])
  .meta({ description: 'Who put it in, as the record names them; null: not known.' });
const stated = { name: z.string(), by, at: z.iso.datetime() };
const Proposal = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('part'), ...stated, body: Part }),
    z.strictObject({ kind: z.literal('offer'), ...stated, body: Offer }),
    z.strictObject({ kind: z.literal('fit'), ...stated, body: Fit }),
  ])
  .meta({ id: 'Proposal', description: 'What was put in and no editor has confirmed yet.' });
const Standing = z.strictObject({ standing: z.enum(['proposed', 'confirmed']), by }).meta({
  id: 'Standing',
  description: 'proposed: a member put it in, and no editor has confirmed it yet.',
});

const CURSOR = new RegExp(
  `^((part|offer) ${CODE_FORM}|fit ${CODE_FORM}/(${FitRelation.options.join('|')})/${CODE_FORM})$`,
);
const CodeParam = z.strictObject({ code: Code });
const answers = { 200: { description: 'How far it is trusted.', schema: Standing } };
const reply = (stands: Stands) => ({ status: 200, body: stands });

/** How far entries of a kind are trusted. */
function trusted(word: Confirmable, a: string): Endpoint[] {
  const tag = `${word}s`;
  return [
    endpoint({
      method: 'get',
      path: `/v1/${tag}/{code}/standing`,
      tag,
      role: 'viewer',
      summary: `Read whether ${a} is confirmed`,
      params: CodeParam,
      answers,
      problems: ['conflict'],
      handle: async ({ ctx, params: { code } }) => reply(await getStanding({ ctx, input: { word, code } })),
    }),
    endpoint({
      method: 'post',
      path: `/v1/${tag}/{code}/confirm`,
      tag,
      role: 'editor',
      summary: `Confirm ${a} that a member proposed`,
      description: `To reject ${a}, remove it.`,
      params: CodeParam,
      answers,
      problems: ['conflict'],
      handle: async ({ ctx, params: { code } }) => reply(await confirm({ ctx, input: { word, code } })),
    }),
  ];
}

export const proposalRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/proposals',
    tag: 'proposals',
    role: 'viewer',
    summary: 'List what is proposed: parts, offers and fits that nobody has confirmed',
    query: PageQuery.extend({
      kind: z.enum(['part', 'offer', 'fit']).optional().meta({ description: 'Only proposals of this kind.' }),
      by: z.string().max(100).optional().meta({
        description: 'Only what this person put in, as the record names them.',
      }),
    }),
    answers: { 200: { description: 'A page.', schema: pageSchema(Proposal, 'Page_proposals') } },
    handle: async ({ ctx, query, path }) => {
      const page = await listProposals({
        ctx,
        input: { ...pageInput(query, CURSOR), kind: query.kind, by: query.by },
      });
      return pageReply(page, ({ at, ...rest }) => ({ ...rest, at: at.toISOString() }), path, query);
    },
  }),
  ...trusted('part', 'a part'),
  ...trusted('offer', 'an offer'),
];
