import { and, eq } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { members } from './schema/index.ts';

/** The id of the member whose things are asked for: `me` is who asks. Error: Invalid where there is no such member. */
export async function ownerAsked(ctx: Ctx, owner: string): Promise<string> {
  if (owner === 'me') {
    if (ctx.member !== undefined) return ctx.member;
    throw unknownOwner(
      owner,
      'Your key belongs to no member. Write the id of a member, or use a key of your own.',
    );
  }
  const [member] = await ctx.tx
    .select({ id: members.id })
    .from(members)
    .where(and(eq(members.clubId, ctx.club), eq(members.id, owner)));
  if (member) return member.id;
  throw unknownOwner(
    owner,
    'The club has no member with this id. The list of members has the ids of all. For yourself, write me.',
  );
}

const unknownOwner = (owner: string, todo: string) =>
  new Invalid([
    {
      code: 'unknown-member',
      severity: 'stop',
      at: '/owner',
      where: 'query, owner',
      found: JSON.stringify(owner),
      todo,
    },
  ]);
