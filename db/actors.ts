import { and, eq, inArray } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import { keys, members } from './schema/index.ts';

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

const SERVICE: Record<string, string> = { worker: 'the service', system: 'the service' };

/** Who these actors are, in words: a member’s name, or the label of a key of no member. */
export async function namesOf(ctx: Ctx, actors: readonly string[]): Promise<Map<string, string>> {
  const idsOf = (word: string) =>
    [
      ...new Set(
        actors.flatMap((actor) => (actor.startsWith(`${word}:`) ? [actor.slice(word.length + 1)] : [])),
      ),
      // What came out of an archive may name anybody.
    ].filter((id) => UUID.test(id));
  const [memberIds, keyIds] = [idsOf('member'), idsOf('key')];
  const people = memberIds.length
    ? await ctx.tx
        .select({ id: members.id, name: members.name })
        .from(members)
        .where(and(eq(members.clubId, ctx.club), inArray(members.id, memberIds)))
    : [];
  const labelled = keyIds.length
    ? await ctx.tx
        .select({ id: keys.id, label: keys.label })
        .from(keys)
        .where(and(eq(keys.clubId, ctx.club), inArray(keys.id, keyIds)))
    : [];
  return new Map([
    ...Object.entries(SERVICE),
    ...people.map(({ id, name }) => [`member:${id}`, name] as const),
    ...labelled.map(({ id, label }) => [`key:${id}`, `key ${label}`] as const),
  ]);
}
