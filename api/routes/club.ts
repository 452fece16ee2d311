import { z } from 'zod';
import { getClub, setClubTerms, type Club } from '../../db/clubs.ts';
import { createKey, listKeys, revokeKey, ROLES, type Key } from '../../db/keys.ts';
import { Buyer } from '../../worker/engine/model/buyer.ts';
import { Country, Name } from '../../worker/engine/model/code.ts';
import { ClubTerms } from '../../worker/engine/model/job.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { ClubSettings } from '../../worker/engine/model/settings.ts';
import { versionOf } from '../../db/version.ts';
import { neverChanges } from '../http/problem.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';

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

const Role = z.enum(ROLES).meta({
  id: 'Role',
  description:
    'viewer can read; member can also ask for quotes; editor can also change the catalogue and looms; admin can also make keys and set the club’s terms.',
});

const KeyIn = z.strictObject({ role: Role, label: Name }).meta({ id: 'KeyRequest' });
const keyShape = {
  id: z.uuid(),
  role: Role,
  label: z.string(),
  createdAt: z.iso.datetime(),
  revokedAt: z.iso.datetime().optional(),
};
const KeyOut = z.strictObject(keyShape).meta({ id: 'Key' });
const NewKey = z
  .strictObject({
    ...keyShape,
    secret: z
      .string()
      .meta({ description: 'The secret of the key. It is shown only here, only once, and is not stored.' }),
  })
  .meta({ id: 'NewKey' });

function presentKey(key: Key): z.infer<typeof KeyOut> {
  return {
    id: key.id,
    role: key.role,
    label: key.label,
    createdAt: key.createdAt.toISOString(),
    ...(key.revokedAt ? { revokedAt: key.revokedAt.toISOString() } : {}),
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
  endpoint({
    method: 'get',
    path: '/v1/keys',
    tag: 'keys',
    role: 'admin',
    summary: 'List the club’s keys, oldest first',
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(KeyOut, 'Page_keys') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(await listKeys({ ctx, input: pageInput(query, MADE_ID) }), presentKey, path, query),
  }),
  endpoint({
    method: 'post',
    path: '/v1/keys',
    tag: 'keys',
    role: 'admin',
    summary: 'Make a key',
    description: 'The secret is only in this answer, so this call takes no Idempotency-Key.',
    body: KeyIn,
    once: false,
    answers: { 201: { description: 'The key, with its secret.', schema: NewKey } },
    handle: async ({ ctx, body }) => {
      const { key, secret } = await createKey({ ctx, input: body });
      return { status: 201, body: { ...presentKey(key), secret } };
    },
  }),
  endpoint({
    method: 'delete',
    path: '/v1/keys/{id}',
    tag: 'keys',
    role: 'admin',
    summary: 'Revoke a key',
    description: 'Other processes of the service may let the key in for up to 2 seconds more.',
    params: z.strictObject({ id: z.uuid() }),
    answers: { 204: { description: 'Revoked.' } },
    handle: async ({ ctx, params }, { gate }) => {
      await revokeKey({ ctx, input: params });
      return { status: 204, after: async () => gate.forget(params.id) };
    },
  }),
];
