import { z } from 'zod';
import { getClub, setClubTerms, type Club } from '../../db/clubs.ts';
import { Buyer } from '../../worker/engine/model/buyer.ts';
import { Country } from '../../worker/engine/model/code.ts';
import { ClubTerms } from '../../worker/engine/model/job.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { ClubSettings } from '../../worker/engine/model/settings.ts';
import { versionOf } from '../../db/version.ts';
import { neverChanges } from '../http/problem.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';

const ClubIn = ClubTerms.extend({
  name: z
    .string()
    .optional()
    .meta({ description: 'The name as you read it. The name of a club cannot be changed.' }),
}).meta({ id: 'ClubRequest' });

const ClubOut = z
  .strictObject({
    name: z.string(),
    currency: Currency,
    country: Country.optional(),
    buyer: Buyer.optional(),
    settings: ClubSettings,
  })
  .meta({ id: 'Club' });

function replyWith(club: Club): Reply {
  const { name, currency, country, buyer, settings } = club;
  return {
    status: 200,
    body: {
      name,
      currency,
      ...(country === null ? {} : { country }),
      ...(buyer === null ? {} : { buyer }),
      settings,
    },
    headers: { etag: etagOf(versionOf(club)) },
  };
}

export const clubRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/club',
    tag: 'club',
    role: 'viewer',
    summary: 'Read the club’s currency, country, buyer and settings',
    answers: { 200: { description: 'The club.', schema: ClubOut } },
    handle: async ({ ctx }) => replyWith(await getClub({ ctx })),
  }),
  endpoint({
    method: 'put',
    path: '/v1/club',
    tag: 'club',
    role: 'admin',
    summary: 'Set the club’s currency, country, buyer and settings',
    description: 'The currency cannot change while the club has rates: 409.',
    body: ClubIn,
    ifMatch: true,
    problems: ['conflict'],
    answers: { 200: { description: 'The club.', schema: ClubOut } },
    handle: async ({ ctx, body: { name, ...terms }, version }) => {
      const club = await getClub({ ctx });
      if (name !== undefined && name !== club.name) throw neverChanges('name', club.name, name);
      return replyWith(await setClubTerms({ ctx, input: { ...terms, version } }));
    },
  }),
];
