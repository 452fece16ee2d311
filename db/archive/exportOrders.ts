import { and, asc, eq, gt, sql } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { entriesOf } from '../orders.ts';
import {
  type orderEntries as entryTable,
  orders,
  orderSteps,
  receipts,
  reservations,
  stockMovements,
} from '../schema/index.ts';
import type { Entry, EntryOf } from './entries.ts';
import { PAGE, paged } from './paged.ts';

/** Orders with their deliveries, and the ledger of the shelf, as the entries that an archive has of them. */

export async function* orderEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const heads = paged<{ id: string }>((after) =>
    ctx.tx
      .select({ id: orders.id })
      .from(orders)
      .where(and(eq(orders.clubId, ctx.club), after && gt(orders.id, after.id)))
      .orderBy(asc(orders.id))
      .limit(PAGE),
  );
  for await (const { id } of heads) {
    const entry = await orderEntryOf(ctx, id);
    if (!entry) continue;
    yield entry;
    yield* receiptEntries(ctx, id);
    for (const row of await entriesOf(ctx, id)) yield orderEntryEntry(row);
  }
}

/** An order that is stored, with its steps. */
export async function orderEntryOf(ctx: Ctx, id: string): Promise<EntryOf<'order'> | undefined> {
  const [row] = await ctx.tx
    .select()
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, id)));
  if (!row) return undefined;
  const steps = await ctx.tx
    .select()
    .from(orderSteps)
    .where(and(eq(orderSteps.clubId, ctx.club), eq(orderSteps.orderId, id)))
    .orderBy(asc(orderSteps.number));
  const { clubId: _club, quoteId: quote, supplierCode: supplier, supplierNumber, note, ...rest } = row;
  return {
    type: 'order',
    ...rest,
    quote,
    supplier,
    ...(supplierNumber === null ? {} : { supplierNumber }),
    ...(note === null ? {} : { note }),
    steps: steps.map(({ state, note: said, madeAt, madeBy }) => ({
      state,
      ...(said === null ? {} : { note: said }),
      at: madeAt.toISOString(),
      actor: madeBy,
    })),
    createdAt: row.createdAt.toISOString(),
    updatedAt: row.updatedAt.toISOString(),
  };
}

async function* receiptEntries(ctx: Ctx, order: string): AsyncGenerator<Entry> {
  const rows = paged<typeof receipts.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(receipts)
      .where(
        and(eq(receipts.clubId, ctx.club), eq(receipts.orderId, order), after && gt(receipts.id, after.id)),
      )
      .orderBy(asc(receipts.id))
      .limit(PAGE),
  );
  for await (const row of rows) yield receiptEntry(row);
}

export function receiptEntry(row: typeof receipts.$inferSelect): EntryOf<'receipt'> {
  const { orderId: order, id, madeAt, madeBy: actor, body } = row;
  return { type: 'receipt', order, id, at: madeAt.toISOString(), actor, body };
}

export function orderEntryEntry(row: typeof entryTable.$inferSelect): EntryOf<'orderEntry'> {
  const { orderId: order, id, madeAt, madeBy: actor, body } = row;
  return { type: 'orderEntry', order, id, at: madeAt.toISOString(), actor, body };
}

export async function* reservationEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const { clubId, stockCode, quoteId } = reservations;
  const rows = paged<typeof reservations.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(reservations)
      .where(
        and(
          eq(clubId, ctx.club),
          after && sql`(${stockCode}, ${quoteId}) > (${after.stockCode}, ${after.quoteId}::uuid)`,
        ),
      )
      .orderBy(asc(stockCode), asc(quoteId))
      .limit(PAGE),
  );
  for await (const row of rows) yield reservationEntry(row);
}

export function reservationEntry(row: typeof reservations.$inferSelect): EntryOf<'reservation'> {
  const { stockCode: stock, quoteId: quote, id, count, until, madeAt, madeBy: actor } = row;
  return {
    type: 'reservation',
    stock,
    quote,
    id,
    count,
    ...(until === null ? {} : { until }),
    at: madeAt.toISOString(),
    actor,
  };
}

export async function* movementEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const { clubId, stockCode, number } = stockMovements;
  const rows = paged<typeof stockMovements.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(stockMovements)
      .where(
        and(
          eq(clubId, ctx.club),
          after && sql`(${stockCode}, ${number}) > (${after.stockCode}, ${after.number}::integer)`,
        ),
      )
      .orderBy(asc(stockCode), asc(number))
      .limit(PAGE),
  );
  for await (const row of rows) yield movementEntry(row);
}

export function movementEntry(row: typeof stockMovements.$inferSelect): EntryOf<'movement'> {
  const { stockCode: stock, number, id, kind, change, balance, movedAt, movedBy: actor, body } = row;
  return {
    type: 'movement',
    stock,
    number,
    id,
    kind,
    change,
    balance,
    at: movedAt.toISOString(),
    actor,
    body,
  };
}
