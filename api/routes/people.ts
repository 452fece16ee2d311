import { z } from 'zod';
import { ROLES, type Key } from '../../db/keys.ts';
import type { Invitation } from '../../db/invitations.ts';
import { SEEN_BY } from '../../db/own.ts';
import type { Member } from '../../db/members.ts';
import { Name, Note } from '../../worker/engine/model/code.ts';

/** People, their keys and invitations, as they are read and sent. */

export const IdParam = z.strictObject({ id: z.uuid() });

export const Role = z.enum(ROLES).meta({
  id: 'Role',
  description:
    'viewer can read; member can also ask for quotes and keep looms of their own; editor can also change the catalogue and looms; admin can also let people in, make keys and set the club’s terms.',
});

const Email = z.email().max(254).meta({
  description: 'For admins and the member. Nothing is sent to it.',
  example: 'ada@example.org',
});

/** Who sees a loom or a quote. */
const SeenBy = z.enum(SEEN_BY).meta({
  id: 'SeenBy',
  description:
    'club: everybody in the club; owner: its owner alone, and not the admins; an archive has it too.',
});
export const SeenByIn = z.strictObject({ seenBy: SeenBy }).meta({ id: 'SeenByRequest' });
export const SeenByQuery = z.strictObject({
  seenBy: SeenBy.optional().meta({
    description:
      'Who is to see it: club or owner. Left out: the club; a quote of a loom that you alone see, you alone.',
  }),
});
/** Whose things a list has. */
export const ownerQuery = {
  owner: z
    .union([z.literal('me'), z.uuid()])
    .optional()
    .meta({ description: 'Only those of this member: the id, or me for your own.' }),
};
export const ownedShape = {
  owner: z
    .string()
    .optional()
    .meta({ description: 'The name of the member whose it is. Left out: the club’s.' }),
  seenBy: SeenBy,
};

const moment = z.iso.datetime();

const personal = {
  email: Email.optional(),
  note: Note.optional().meta({ description: 'A note for admins and the member.' }),
};

export const MemberIn = z.strictObject({ name: Name, role: Role, ...personal }).meta({ id: 'MemberRequest' });

export const MemberOut = z
  .strictObject({
    id: z.uuid(),
    name: z.string(),
    role: Role,
    ...personal,
    joinedAt: moment,
    leftAt: moment.optional().meta({ description: 'When they left the club. Left out: they are in it.' }),
  })
  .meta({
    id: 'Member',
    description: 'A person in the club. E-mail and note are shown to admins and to the member.',
  });

/** The only way out for a member’s row; `whole`: with what is for admins and the member. */
export function presentMember(member: Member, whole: boolean): z.infer<typeof MemberOut> {
  const { id, name, role, email, note, joinedAt, leftAt } = member;
  return {
    id,
    name,
    role,
    ...(whole && email !== null ? { email } : {}),
    ...(whole && note !== null ? { note } : {}),
    joinedAt: joinedAt.toISOString(),
    ...(leftAt ? { leftAt: leftAt.toISOString() } : {}),
  };
}

const keyShape = {
  id: z.uuid(),
  role: Role,
  label: z.string(),
  member: z
    .uuid()
    .optional()
    .meta({ description: 'Whose it is. Left out: a key of the club, of no member.' }),
  createdAt: moment,
  revokedAt: moment.optional(),
};
export const KeyOut = z.strictObject(keyShape).meta({ id: 'Key' });
export const NewKey = z
  .strictObject({
    ...keyShape,
    secret: z
      .string()
      .meta({ description: 'The secret of the key. It is shown only here, only once, and is not stored.' }),
  })
  .meta({ id: 'NewKey' });

/** The only way out for a key’s row. */
export function presentKey(key: Key): z.infer<typeof KeyOut> {
  return {
    id: key.id,
    role: key.role,
    label: key.label,
    ...(key.memberId === null ? {} : { member: key.memberId }),
    createdAt: key.createdAt.toISOString(),
    ...(key.revokedAt ? { revokedAt: key.revokedAt.toISOString() } : {}),
  };
}

export const InvitationIn = z
  .strictObject({
    role: Role,
    name: Name.optional().meta({ description: 'Whom it is for, so that you find it again.' }),
    note: Note.optional(),
    days: z.int().min(1).max(60).default(14).meta({ description: 'How many days it can be used.' }),
  })
  .meta({ id: 'InvitationRequest' });

const invitationShape = {
  id: z.uuid(),
  role: Role,
  name: z.string().optional(),
  note: z.string().optional(),
  state: z.enum(['open', 'used', 'withdrawn', 'ended']).meta({
    description: 'open: somebody can join with it. ended: its days are over.',
  }),
  createdAt: moment,
  endsAt: moment,
  usedAt: moment.optional(),
  member: z.uuid().optional().meta({ description: 'Who joined with it.' }),
};
export const InvitationOut = z.strictObject(invitationShape).meta({ id: 'Invitation' });
export const NewInvitation = z
  .strictObject({
    ...invitationShape,
    code: z.string().meta({
      description:
        'The code to join with. It is shown only here, only once, and is not stored. It lets in one person, once.',
    }),
  })
  .meta({ id: 'NewInvitation' });

/** The only way out for an invitation’s row. */
export function presentInvitation(row: Invitation, now: Date): z.infer<typeof InvitationOut> {
  const state = row.usedAt ? 'used' : row.endedAt ? 'withdrawn' : row.endsAt <= now ? 'ended' : 'open';
  return {
    id: row.id,
    role: row.role,
    ...(row.name === null ? {} : { name: row.name }),
    ...(row.note === null ? {} : { note: row.note }),
    state,
    createdAt: row.createdAt.toISOString(),
    endsAt: row.endsAt.toISOString(),
    ...(row.usedAt ? { usedAt: row.usedAt.toISOString() } : {}),
    ...(row.memberId === null ? {} : { member: row.memberId }),
  };
}

export const JoinIn = z
  .strictObject({
    code: z.string().max(200).meta({ description: 'The code of your invitation, join_…' }),
    name: Name.meta({ description: 'Your name, as the club is to see it.', example: 'Ada' }),
    email: Email.optional(),
  })
  .meta({ id: 'JoinRequest' });

export const JoinedOut = z
  .strictObject({ club: z.string(), member: MemberOut, key: NewKey })
  .meta({ id: 'Joined', description: 'Who you are in the club now, with your first key.' });
