import { z } from 'zod';
import { checkJob } from '../../db/checks.ts';
import { asClub } from '../../db/club.ts';
import { Checks } from '../../worker/engine/model/checks.ts';
import { Name } from '../../worker/engine/model/code.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { slowEndpoint, type SlowEndpoint } from '../http/endpoint.ts';
import { RevisionParam } from './looms.ts';

const OptionQuery = z.strictObject({
  option: z.array(Name).max(LIMITS.options).default([]).meta({
    description:
      'An option with which the loom is made; state it once for each option. Left out: only what is always in the loom.',
  }),
});

export const checkRoutes: SlowEndpoint[] = [
  slowEndpoint({
    method: 'get',
    path: '/v1/looms/{code}/revisions/{revision}/checks',
    tag: 'looms',
    role: 'viewer',
    cache: 'checked',
    summary: 'Check one revision of a loom',
    description:
      'What the checks find, the most serious first, with branches and circuits. Nothing is bought. Pointers are into the revision as it is read. A fault in the catalogue has no pointer, only its place in words. Only a few checks of a club can run at once; more are refused with 429.',
    params: RevisionParam,
    query: OptionQuery,
    repeated: ['option'],
    answers: { 200: { description: 'The checks.', schema: Checks } },
    problems: ['conflict', 'too-many', 'out-of-time'],
    slow: async ({ ctx, params, query }, { database, checker }) => {
      const input = { ...params, options: query.option };
      const content = await checker.check(ctx.club, () =>
        asClub(database, ctx, (ctx) => checkJob({ ctx, input }), { snapshot: true }),
      );
      return { status: 200, text: { type: 'application/json', content } };
    },
  }),
];
