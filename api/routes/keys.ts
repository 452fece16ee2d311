import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import {
  createKey,
  getKey,
  listKeys,
  mayAs,
  renewKey,
  revokeKey,
  type Role as RoleName,
} from '../../db/keys.ts';
import { getMember, refuseLeft } from '../../db/members.ts';
import { Name } from '../../worker/engine/model/code.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { HttpProblem } from '../http/problem.ts';
import { IdParam, KeyOut, NewKey, presentKey, Role } from './people.ts';

const KeyIn = z
  .strictObject({
    role: Role,
    label: Name,
    member: z
      .uuid()
      .optional()
      .meta({ description: 'Whose key it is to be. Left out: a key of the club, of no member.' }),
  })
  .meta({ id: 'KeyRequest' });
const OwnKeyIn = z.strictObject({ role: Role, label: Name }).meta({ id: 'OwnKeyRequest' });

const page = { 200: { description: 'A page.', schema: pageSchema(KeyOut, 'Page_keys') } };
const made = { 201: { description: 'The key, with its secret.', schema: NewKey } };
const SECRET_ONCE = 'The secret is only in this answer, so this call takes no Idempotency-Key.';
const REVOKED_SOON = 'Other processes of the service may let the key in for up to 2 seconds more.';
const LAST_ADMIN = 'The last key with which an admin can act cannot be revoked: 409.';

/** The member whose key asks. Problem: 403 for a key of no member. */
function memberOf({ member }: Ctx): string {
  if (member !== undefined) return member;
  throw new HttpProblem(
    'forbidden',
    'Your key belongs to no member, so it has no keys of its own. Use a key of your own, or ask an admin of your club.',
  );
}

/** Problem: 403 for a role that is more than what the caller’s key may do. */
function refuseMore(ctx: Ctx, role: RoleName): void {
  if (mayAs(ctx.role, role)) return;
  throw new HttpProblem(
    'forbidden',
    `The key has the role ${role}, which is more than the role ${ctx.role} that your key has here. Use a key with the role ${role}, or ask an admin of your club.`,
  );
}

/** Problems: 404 for a key that is not the caller’s own; 403 for one that may do more than the key that asks. */
async function requireOwn(ctx: Ctx, id: string): Promise<void> {
  const key = await getKey({ ctx, input: { id, member: memberOf(ctx) } });
  refuseMore(ctx, key.role);
}

export const keyRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/keys',
    tag: 'keys',
    role: 'admin',
    summary: 'List the club’s keys, oldest first',
    query: PageQuery,
    answers: page,
    handle: async ({ ctx, query, path }) =>
      pageReply(await listKeys({ ctx, input: pageInput(query, MADE_ID) }), presentKey, path, query),
  }),
  endpoint({
    method: 'post',
    path: '/v1/keys',
    tag: 'keys',
    role: 'admin',
    summary: 'Make a key',
    description: `A key of a member can do no more than the member, also later. ${SECRET_ONCE}`,
    body: KeyIn,
    once: false,
    answers: made,
    handle: async ({ ctx, body: { role, label, member } }) => {
      if (member !== undefined) await requireFit(ctx, member, role);
      const { key, secret } = await createKey({ ctx, input: { role, label, memberId: member } });
      return { status: 201, body: { ...presentKey(key), secret } };
    },
  }),
  endpoint({
    method: 'delete',
    path: '/v1/keys/{id}',
    tag: 'keys',
    role: 'admin',
    summary: 'Revoke a key',
    description: `${REVOKED_SOON} ${LAST_ADMIN}`,
    params: IdParam,
    answers: { 204: { description: 'Revoked.' } },
    problems: ['conflict'],
    handle: async ({ ctx, params }, { gate }) => {
      await revokeKey({ ctx, input: params });
      return { status: 204, after: async () => gate.forget(params.id) };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/me/keys',
    tag: 'keys',
    role: 'viewer',
    summary: 'List your own keys, oldest first',
    query: PageQuery,
    answers: page,
    handle: async ({ ctx, query, path }) =>
      pageReply(
        await listKeys({ ctx, input: { ...pageInput(query, MADE_ID), member: memberOf(ctx) } }),
        presentKey,
        path,
        query,
      ),
  }),
  endpoint({
    method: 'post',
    path: '/v1/me/keys',
    tag: 'keys',
    role: 'viewer',
    summary: 'Make a key of your own',
    description: `Its role is at most that of the key you use now. ${SECRET_ONCE}`,
    body: OwnKeyIn,
    once: false,
    answers: made,
    handle: async ({ ctx, body }) => {
      const memberId = memberOf(ctx);
      refuseMore(ctx, body.role);
      const { key, secret } = await createKey({ ctx, input: { ...body, memberId } });
      return { status: 201, body: { ...presentKey(key), secret } };
    },
  }),
  endpoint({
    method: 'delete',
    path: '/v1/me/keys/{id}',
    tag: 'keys',
    role: 'viewer',
    summary: 'Revoke a key of your own',
    description: `${REVOKED_SOON} ${LAST_ADMIN}`,
    params: IdParam,
    answers: { 204: { description: 'Revoked.' } },
    problems: ['conflict'],
    handle: async ({ ctx, params }, { gate }) => {
      await requireOwn(ctx, params.id);
      await revokeKey({ ctx, input: params });
      return { status: 204, after: async () => gate.forget(params.id) };
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/me/keys/{id}/renew',
    tag: 'keys',
    role: 'viewer',
    summary: 'Renew a key of your own',
    description: `A new key with the same role and label takes its place; the old one ends at once. ${SECRET_ONCE}`,
    params: IdParam,
    once: false,
    answers: made,
    handle: async ({ ctx, params }, { gate }) => {
      await requireOwn(ctx, params.id);
      const { key, secret } = await renewKey({ ctx, input: params });
      return {
        status: 201,
        body: { ...presentKey(key), secret },
        after: async () => gate.forget(params.id),
      };
    },
  }),
];

/** Problems: 404 for a member who is not there; 409 for one who has left; 422 for a role that is more than theirs. */
async function requireFit(ctx: Ctx, id: string, role: RoleName): Promise<void> {
  const member = await getMember({ ctx, input: { id } });
  refuseLeft(member);
  if (mayAs(member.role, role)) return;
  throw new HttpProblem('not-valid', 'A key cannot do more than its member.', {
    findings: [
      {
        code: 'role-above-member',
        severity: 'stop',
        at: '/role',
        where: 'role',
        found: role,
        limit: member.role,
        todo: `${member.name} has the role ${member.role}. Choose this role or less, or raise the member’s role first.`,
      },
    ],
  });
}
