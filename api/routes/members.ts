import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import { createInvitation, endInvitation, joinClub, listInvitations } from '../../db/invitations.ts';
import {
  changeMember,
  createMember,
  getMember,
  leaveClub,
  listMembers,
  versionOfMember,
  type Member,
} from '../../db/members.ts';
import { asClub } from '../../db/club.ts';
import { endpoint, openEndpoint, type AnyEndpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { HttpProblem } from '../http/problem.ts';
import {
  IdParam,
  InvitationIn,
  InvitationOut,
  JoinedOut,
  JoinIn,
  MemberIn,
  MemberOut,
  NewInvitation,
  presentInvitation,
  presentKey,
  presentMember,
  Role,
} from './people.ts';

const MeOut = z
  .strictObject({
    club: z.string(),
    role: Role.meta({ description: 'What this key may do: the lesser of its own role and the member’s.' }),
    key: z.uuid(),
    member: MemberOut.optional().meta({ description: 'Left out: the key belongs to no member.' }),
  })
  .meta({ id: 'Me' });

const isWhole = (ctx: Ctx, { id }: Member) => ctx.role === 'admin' || ctx.member === id;

function replyWith(ctx: Ctx, status: 200 | 201, member: Member): Reply {
  return {
    status,
    body: presentMember(member, isWhole(ctx, member)),
    headers: {
      etag: etagOf(versionOfMember(member)),
      ...(status === 201 ? { location: `/v1/members/${member.id}` } : {}),
    },
  };
}

/** Problem: 403 for whoever is neither an admin nor this member. */
function requireAdminOrSelf(ctx: Ctx, id: string, what: string): void {
  if (ctx.role === 'admin' || ctx.member === id) return;
  throw new HttpProblem('forbidden', `${what} Your key has the role ${ctx.role}. Ask an admin of your club.`);
}

export const memberRoutes: AnyEndpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/me',
    tag: 'members',
    role: 'viewer',
    summary: 'Read who you are: club, role, key and member',
    answers: { 200: { description: 'Who asks.', schema: MeOut } },
    handle: async ({ ctx }) => {
      const { name: club } = await getClub({ ctx });
      const member =
        ctx.member === undefined ? undefined : await getMember({ ctx, input: { id: ctx.member } });
      const { role, key } = ctx;
      return {
        status: 200,
        body: { club, role, key, ...(member ? { member: presentMember(member, true) } : {}) },
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/members',
    tag: 'members',
    role: 'viewer',
    summary: 'List all who are or were members, in the order in which they joined',
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(MemberOut, 'Page_members') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(
        await listMembers({ ctx, input: pageInput(query, MADE_ID) }),
        (member) => presentMember(member, isWhole(ctx, member)),
        path,
        query,
      ),
  }),
  endpoint({
    method: 'post',
    path: '/v1/members',
    tag: 'members',
    role: 'admin',
    summary: 'Add a member',
    description:
      'The member has no key yet: make one with POST /v1/keys. To let a person in by a code instead: POST /v1/invitations.',
    body: MemberIn,
    answers: { 201: { description: 'The member.', schema: MemberOut } },
    handle: async ({ ctx, body }) => replyWith(ctx, 201, await createMember({ ctx, input: body })),
  }),
  endpoint({
    method: 'get',
    path: '/v1/members/{id}',
    tag: 'members',
    role: 'viewer',
    summary: 'Read a member',
    params: IdParam,
    answers: { 200: { description: 'The member.', schema: MemberOut } },
    handle: async ({ ctx, params }) => replyWith(ctx, 200, await getMember({ ctx, input: params })),
  }),
  endpoint({
    method: 'put',
    path: '/v1/members/{id}',
    tag: 'members',
    role: 'viewer',
    roleForOthers: 'admin',
    summary: 'Change a member’s name, role, e-mail and note',
    description:
      'You can change your own name, e-mail and note. Only an admin can change a role, and nobody can raise their own. The last admin of a club stays an admin: 409.',
    params: IdParam,
    body: MemberIn,
    ifMatch: true,
    problems: ['conflict'],
    answers: { 200: { description: 'The member.', schema: MemberOut } },
    handle: async ({ ctx, params, body, version }) => {
      const before = await getMember({ ctx, input: params });
      requireAdminOrSelf(ctx, params.id, 'Only an admin can change what is said of another member.');
      if (ctx.role !== 'admin' && body.role !== before.role)
        throw new HttpProblem(
          'forbidden',
          `You cannot change your own role: it is ${before.role}. Send this role, or ask an admin of your club to change it.`,
        );
      return replyWith(ctx, 200, await changeMember({ ctx, input: { ...params, ...body, version } }));
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/members/{id}/leave',
    tag: 'members',
    role: 'viewer',
    roleForOthers: 'admin',
    summary: 'End a membership',
    description:
      'You can leave yourself; an admin can end the membership of others. All keys of the member end at once, and so do their open invitations. The name stays in the record. What is private to the member stays stored and is seen by nobody: show it to the club before, if the club is to keep it. The last admin of a club cannot leave: 409.',
    params: IdParam,
    once: false,
    answers: { 200: { description: 'The member, who has left.', schema: MemberOut } },
    handle: async ({ ctx, params }, { gate }) => {
      await getMember({ ctx, input: params });
      requireAdminOrSelf(ctx, params.id, 'Only an admin can end the membership of another.');
      const { member, keys } = await leaveClub({ ctx, input: params });
      return { ...replyWith(ctx, 200, member), after: async () => keys.forEach((key) => gate.forget(key)) };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/invitations',
    tag: 'members',
    role: 'admin',
    summary: 'List invitations, newest first',
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(InvitationOut, 'Page_invitations') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(
        await listInvitations({ ctx, input: pageInput(query, MADE_ID) }),
        (row) => presentInvitation(row, ctx.now()),
        path,
        query,
      ),
  }),
  endpoint({
    method: 'post',
    path: '/v1/invitations',
    tag: 'members',
    role: 'admin',
    summary: 'Invite a person',
    description:
      'Give the code to the person; they join with POST /v1/join. It works once, and ends after the days that you state. The code is only in this answer, so this call takes no Idempotency-Key.',
    body: InvitationIn,
    once: false,
    answers: { 201: { description: 'The invitation, with its code.', schema: NewInvitation } },
    handle: async ({ ctx, body }) => {
      const { invitation, code } = await createInvitation({ ctx, input: body });
      return { status: 201, body: { ...presentInvitation(invitation, ctx.now()), code } };
    },
  }),
  endpoint({
    method: 'delete',
    path: '/v1/invitations/{id}',
    tag: 'members',
    role: 'admin',
    summary: 'Withdraw an invitation',
    params: IdParam,
    answers: { 204: { description: 'Withdrawn: nobody can join with it.' } },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => {
      await endInvitation({ ctx, input: params });
      return { status: 204 };
    },
  }),
  openEndpoint({
    method: 'post',
    path: '/v1/join',
    tag: 'members',
    summary: 'Join a club with the code of an invitation',
    description:
      'It needs no key: you get your first one in the answer, where its secret is shown only this once. A code works once. The answer to a code that is unknown, used, withdrawn or too old is the same 404, so check the code and, if it is right, ask for another. A person who joins a second club gets another key for it.',
    body: JoinIn,
    answers: { 201: { description: 'You have joined.', schema: JoinedOut } },
    open: async ({ body, base, address }, { database, gate }) => {
      const joined = await gate.tryCode(address, () => joinClub(database, base, body));
      if (!joined)
        throw new HttpProblem(
          'not-found',
          'This code lets nobody in: it is incomplete, it was already used, or it has ended. Check it, or ask for a new invitation.',
        );
      const { member, key, secret } = joined;
      const { id, clubId, role } = member;
      const as = { ...base, club: clubId, role, member: id, actor: `member:${id}` };
      const { name } = await asClub(database, as, (ctx) => getClub({ ctx }));
      return {
        status: 201,
        body: { club: name, member: presentMember(member, true), key: { ...presentKey(key), secret } },
      };
    },
  }),
];
