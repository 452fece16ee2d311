import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm';
import { codesMeant, didYouMean } from '../worker/engine/model/didYouMean.ts';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { recordAll, type Ctx } from './club.ts';
import { Forbidden } from './errors.ts';
import { mayAs } from './keys.ts';
import { requireOwner } from './own.ts';
import { members, stock } from './schema/index.ts';

/**
 * Whose a stock item is: its body has the name, and its row the id. The two agree at all times, since a member who gets another
 * name gets it at their stock too.
 */

interface Person {
  id: string;
  name: string;
}

/** Whose each item is, by its code: null where it has no owner, or one whom nobody knows. */
export async function ownersOf(ctx: Ctx, items: readonly StockItem[]): Promise<Map<string, string | null>> {
  const { kept, named } = await peopleOf(ctx, items);
  return new Map(items.map((item) => [item.code, theOne(ctx, item, kept, named) ?? null]));
}

/** A finding for each owner who is no member, has left, or is one of several of that name; by the item’s code. */
export async function ownerFaults(ctx: Ctx, items: readonly StockItem[]): Promise<Map<string, Finding[]>> {
  const { kept, named } = await peopleOf(ctx, items);
  const wrong = items.filter((item) => item.owner !== undefined && !theOne(ctx, item, kept, named));
  if (wrong.length === 0) return new Map();
  const there = await ctx.tx
    .select({ name: members.name })
    .from(members)
    .where(and(eq(members.clubId, ctx.club), isNull(members.leftAt)));
  const names = [...new Set(there.map(({ name }) => name))];
  return new Map(
    wrong.map(({ code, owner = '' }) => {
      const several = (named.get(owner)?.length ?? 0) > 1;
      const todo = several
        ? `Several members are called ${owner}. Let the owner enter it with a key of their own, or change one of the names.`
        : `No member is called ${owner}. Use the name as GET /v1/members has it, of someone who has not left, or leave owner out for what is the club’s.${didYouMean(codesMeant(owner, names))}`;
      return [
        code,
        [
          {
            code: several ? 'several-members' : 'unknown-member',
            severity: 'stop',
            at: pointer(['owner']),
            where: 'owner',
            found: JSON.stringify(owner),
            todo,
          },
        ],
      ];
    }),
  );
}

/** Items as a member who is no editor means them: what names no owner is theirs. Error: Forbidden for what is another’s. */
export async function asTheirs(ctx: Ctx, items: readonly StockItem[]): Promise<StockItem[]> {
  if (mayAs(ctx.role, 'editor')) return [...items];
  requireOwner(ctx, 'stock');
  const [me] = await ctx.tx
    .select({ name: members.name })
    .from(members)
    .where(and(eq(members.clubId, ctx.club), eq(members.id, ctx.member ?? '')));
  const owner = me?.name ?? '';
  return items.map((item) => {
    if (item.owner !== undefined && item.owner !== owner)
      throw new Forbidden(
        `The owner of ${item.code} would be ${item.owner}. With the role ${ctx.role} you can keep stock of your own only. Name yourself, ${owner}, or leave owner out.`,
      );
    return { ...item, owner };
  });
}

/** A member’s new name stands at their stock too. */
export async function renameOwner(ctx: Ctx, { id, name }: Person): Promise<void> {
  const own = and(
    eq(stock.clubId, ctx.club),
    eq(stock.ownerId, id),
    sql`${stock.body} ->> 'owner' <> ${name}`,
  );
  const before = await ctx.tx
    .select({ code: stock.code, body: stock.body })
    .from(stock)
    .where(own)
    .orderBy(asc(stock.code))
    .for('no key update');
  if (before.length === 0) return;
  await ctx.tx
    .update(stock)
    .set({
      body: sql`jsonb_set(${stock.body}, '{owner}', to_jsonb(${name}::text))`,
      version: sql`${stock.version} + 1`,
      updatedAt: ctx.now(),
      updatedBy: ctx.actor,
    })
    .where(own);
  await recordAll(
    ctx,
    before.map(({ code, body }) => ({
      action: 'stock-item.replace',
      subject: code,
      before: body,
      after: { ...body, owner: name },
    })),
  );
}

/** The members who are called as the owners are, held as they are; and the owners as they are stored, by the item’s code. */
async function peopleOf(
  ctx: Ctx,
  items: readonly StockItem[],
): Promise<{ kept: Map<string, Person>; named: Map<string, string[]> }> {
  const owned = items.filter(({ owner }) => owner !== undefined);
  const named = new Map<string, string[]>();
  if (owned.length === 0) return { kept: new Map(), named };
  const people = await ctx.tx
    .select({ id: members.id, name: members.name })
    .from(members)
    .where(
      and(
        eq(members.clubId, ctx.club),
        inArray(members.name, [...new Set(owned.map(({ owner = '' }) => owner))]),
        isNull(members.leftAt),
      ),
    )
    .orderBy(asc(members.id))
    .for('share');
  for (const { id, name } of people) named.set(name, [...(named.get(name) ?? []), id]);
  const stored = await ctx.tx
    .select({ code: stock.code, id: members.id, name: members.name })
    .from(stock)
    .innerJoin(members, and(eq(members.clubId, stock.clubId), eq(members.id, stock.ownerId)))
    .where(
      and(
        eq(stock.clubId, ctx.club),
        inArray(
          stock.code,
          owned.map(({ code }) => code),
        ),
      ),
    );
  return { kept: new Map(stored.map(({ code, id, name }) => [code, { id, name }])), named };
}

/** Who is meant by an item’s owner: whose it is already, who asks, or the only one of that name. */
function theOne(
  ctx: Ctx,
  { code, owner }: StockItem,
  kept: ReadonlyMap<string, Person>,
  named: ReadonlyMap<string, string[]>,
): string | undefined {
  if (owner === undefined) return undefined;
  const stays = kept.get(code);
  if (stays?.name === owner) return stays.id;
  const ids = named.get(owner) ?? [];
  if (ctx.member !== undefined && ids.includes(ctx.member)) return ctx.member;
  return ids.length === 1 ? ids[0] : undefined;
}
