import { and, asc, eq, or, sql } from 'drizzle-orm';
import { renamedInStock } from '../worker/engine/model/renamedParts.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { together } from './bulk.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { endMovements, keepMovements } from './movements.ts';
import { requireMayChange } from './own.ts';
import { aloneOnShelf, keptFor } from './reservations.ts';
import { partsMeant } from './partsOfNumbers.ts';
import { unknownByEntry } from './references.ts';
import { stock as table } from './schema/index.ts';
import { asTheirs, ownerFaults, ownersOf } from './stockOwners.ts';

export const stock = catalogue({
  table,
  word: 'stock item',
  asMeant: async (ctx, bodies) => {
    const meant = await partsMeant({ ctx, input: bodies.map(({ part }) => part) });
    return (await asTheirs(ctx, bodies)).map((item) => renamedInStock(item, meant));
  },
  columns: ({ part }) => ({ partCode: part }),
  alone: aloneOnShelf,
  filters: { part: (_ctx, part) => eq(table.partCode, part) },
  lookedUp: async (ctx, bodies) => {
    const owners = await ownersOf(ctx, bodies);
    return ({ code }) => ({ ownerId: owners.get(code) ?? null });
  },
  requireTheirs: (ctx, row) => {
    const { code, ownerId } = row as typeof table.$inferSelect;
    requireMayChange(ctx, { what: `stock item ${code}`, many: 'stock' }, { ownerId });
  },
  after: [keepMovements],
  removed: [endMovements],
  faults: async (ctx, bodies) =>
    together([
      await unknownByEntry(
        ctx,
        bodies.map(({ code, part }) => ({
          key: code,
          names: [{ word: 'part', named: [{ code: part, path: ['part'] }] }],
        })),
      ),
      await ownerFaults(ctx, bodies),
    ]),
});

/**
 * What a quote of this owner may use, by code: what is the club’s, what is the owner’s, and what others let the club use; less
 * what is kept for other quotes. A quote without an owner is the club’s. `owner`: the id of a member. `first`: the quote for
 * which it may be kept.
 */
export async function stockFor({
  ctx,
  input: { owner, first },
}: {
  ctx: Ctx;
  input: { owner: string | null; first: string | null };
}): Promise<StockItem[]> {
  const rows = await ctx.tx
    .select({ body: table.body })
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        // The name, not the id: what came out of an archive may be somebody’s who is no member here.
        or(
          sql`${table.body} ->> 'owner' is null`,
          sql`coalesce(${table.body} ->> 'clubMayUse', 'true') = 'true'`,
          owner === null ? undefined : eq(table.ownerId, owner),
        ),
      ),
    )
    .orderBy(asc(table.code));
  const kept = await keptFor(ctx, { but: first });
  return rows.map(({ body }) => ({ ...body, count: Math.max(0, body.count - (kept.get(body.code) ?? 0)) }));
}
