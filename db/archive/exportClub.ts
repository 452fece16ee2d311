import { and, asc, eq, gt, inArray, notInArray, sql } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { getClub, termsOf } from '../clubs.ts';
import {
  audit,
  fitReports,
  fits,
  lanes,
  loomRevisions,
  looms,
  members,
  offerPrices,
  offers,
  parts,
  quotes,
  rates,
  stock,
  suppliers,
  synonyms,
  tasks,
  winningPrices,
} from '../schema/index.ts';
import { ACTIONS_LEFT_OUT, type Entry } from './entries.ts';
import { movementEntries, orderEntries, reservationEntries } from './exportOrders.ts';
import { PAGE, paged } from './paged.ts';
import {
  auditEntry,
  catalogueEntry,
  fitReportEntry,
  loomEntry,
  memberEntry,
  offerPriceEntry,
  quoteEntry,
  revisionEntry,
  synonymsEntry,
  winningPriceEntry,
} from './stored.ts';

/** Rows of the history that are read at once, in bytes as they are stored: some have a loom in them. */
const AUDIT_BYTES = 256 * 1024;

/**
 * Everything of a club that `ctx` sees, but for its keys and invitations, in the order of an archive; never more in memory
 * than a page. Read it in a snapshot, and with `whole`, so that nothing is missing that another entry names.
 */
export async function* exportClub({ ctx }: { ctx: Ctx }): AsyncGenerator<Entry> {
  yield { type: 'club', terms: termsOf(await getClub({ ctx })) };
  yield* memberEntries(ctx);
  yield* synonymsEntries(ctx);
  yield* catalogueEntries(ctx, 'part', parts);
  yield* catalogueEntries(ctx, 'supplier', suppliers);
  yield* offerPriceEntries(ctx);
  yield* catalogueEntries(ctx, 'offer', offers);
  yield* fitEntries(ctx);
  yield* fitReportEntries(ctx);
  yield* catalogueEntries(ctx, 'rate', rates);
  yield* catalogueEntries(ctx, 'lane', lanes);
  yield* catalogueEntries(ctx, 'stock', stock);
  yield* loomEntries(ctx);
  yield* quoteEntries(ctx);
  yield* orderEntries(ctx);
  yield* movementEntries(ctx);
  yield* reservationEntries(ctx);
  yield* auditEntries(ctx);
}

async function* memberEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const rows = paged<typeof members.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(members)
      .where(and(eq(members.clubId, ctx.club), after && gt(members.id, after.id)))
      .orderBy(asc(members.id))
      .limit(PAGE),
  );
  for await (const row of rows) yield memberEntry(row);
}

async function* synonymsEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const rows = await ctx.tx.select().from(synonyms).where(eq(synonyms.clubId, ctx.club));
  yield* rows.map(synonymsEntry);
}

async function* offerPriceEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const { clubId, offerCode, number } = offerPrices;
  const rows = paged<typeof offerPrices.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(offerPrices)
      .where(
        and(
          eq(clubId, ctx.club),
          after && sql`(${offerCode}, ${number}) > (${after.offerCode}, ${after.number}::integer)`,
        ),
      )
      .orderBy(asc(offerCode), asc(number))
      .limit(PAGE),
  );
  for await (const row of rows) yield offerPriceEntry(row);
}

type CodeTable = typeof parts | typeof suppliers | typeof offers | typeof rates | typeof lanes | typeof stock;

async function* catalogueEntries(
  ctx: Ctx,
  type: 'part' | 'supplier' | 'offer' | 'rate' | 'lane' | 'stock',
  given: CodeTable,
): AsyncGenerator<Entry> {
  // Drizzle cannot see that the tables agree in these columns.
  const table = given as unknown as typeof parts;
  const rows = paged<typeof parts.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(table)
      .where(and(eq(table.clubId, ctx.club), after && gt(table.code, after.code)))
      .orderBy(asc(table.code))
      .limit(PAGE),
  );
  for await (const row of rows) yield catalogueEntry(type, row);
}

async function* fitEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const rows = paged<typeof fits.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(fits)
      .where(
        and(
          eq(fits.clubId, ctx.club),
          after &&
            sql`(${fits.fromPart}, ${fits.relation}, ${fits.toPart}) > (${after.fromPart}, ${after.relation}, ${after.toPart})`,
        ),
      )
      .orderBy(asc(fits.fromPart), asc(fits.relation), asc(fits.toPart))
      .limit(PAGE),
  );
  for await (const row of rows) yield catalogueEntry('fit', row);
}

async function* fitReportEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const { clubId, fromPart, relation, toPart, id } = fitReports;
  const rows = paged<typeof fitReports.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(fitReports)
      .where(
        and(
          eq(clubId, ctx.club),
          after &&
            sql`(${fromPart}, ${relation}, ${toPart}, ${id}) > (${after.fromPart}, ${after.relation}, ${after.toPart}, ${after.id}::uuid)`,
        ),
      )
      .orderBy(asc(fromPart), asc(relation), asc(toPart), asc(id))
      .limit(PAGE),
  );
  for await (const row of rows) yield fitReportEntry(row);
}

async function* loomEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const heads = paged<typeof looms.$inferSelect>((after) =>
    ctx.tx
      .select()
      .from(looms)
      .where(and(eq(looms.clubId, ctx.club), after && gt(looms.code, after.code)))
      .orderBy(asc(looms.code))
      .limit(PAGE),
  );
  for await (const head of heads) {
    yield loomEntry(head);
    for (let revision = 1; revision <= head.latestRevision; revision++) {
      const [row] = await ctx.tx
        .select()
        .from(loomRevisions)
        .where(
          and(
            eq(loomRevisions.clubId, ctx.club),
            eq(loomRevisions.loomCode, head.code),
            eq(loomRevisions.revision, revision),
          ),
        );
      if (row) yield revisionEntry(row);
    }
  }
}

async function* quoteEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const heads = paged<{ id: string }>((after) =>
    ctx.tx
      .select({ id: quotes.id })
      .from(quotes)
      .where(and(eq(quotes.clubId, ctx.club), after && gt(quotes.id, after.id)))
      .orderBy(asc(quotes.id))
      .limit(PAGE),
  );
  for await (const { id } of heads) {
    const [stored] = await ctx.tx
      .select({ quote: quotes, task: tasks })
      .from(quotes)
      .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
      .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, id)));
    if (!stored) continue;
    yield quoteEntry(stored.quote, stored.task);
    yield* winningPriceEntries(ctx, id);
  }
}

async function* winningPriceEntries(ctx: Ctx, quote: string): AsyncGenerator<Entry> {
  const rows = paged<{ asked: typeof winningPrices.$inferSelect; task: typeof tasks.$inferSelect }>((after) =>
    ctx.tx
      .select({ asked: winningPrices, task: tasks })
      .from(winningPrices)
      .innerJoin(tasks, and(eq(tasks.clubId, winningPrices.clubId), eq(tasks.id, winningPrices.taskId)))
      .where(
        and(
          eq(winningPrices.clubId, ctx.club),
          eq(winningPrices.quoteId, quote),
          after && gt(winningPrices.offerCode, after.asked.offerCode),
        ),
      )
      .orderBy(asc(winningPrices.offerCode))
      .limit(PAGE),
  );
  for await (const { asked, task } of rows) yield winningPriceEntry(asked, task);
}

async function* auditEntries(ctx: Ctx): AsyncGenerator<Entry> {
  const heads = paged<{ id: string; bytes: number }>((after) =>
    ctx.tx
      .select({
        id: audit.id,
        bytes:
          sql<number>`coalesce(pg_column_size(${audit.before}), 0) + coalesce(pg_column_size(${audit.after}), 0)`.mapWith(
            Number,
          ),
      })
      .from(audit)
      .where(
        and(
          eq(audit.clubId, ctx.club),
          notInArray(audit.action, ACTIONS_LEFT_OUT),
          after && gt(audit.id, after.id),
        ),
      )
      .orderBy(asc(audit.id))
      .limit(PAGE),
  );
  let ids: string[] = [];
  let bytes = 0;
  for await (const head of heads) {
    if (ids.length === PAGE || (ids.length > 0 && bytes + head.bytes > AUDIT_BYTES)) {
      yield* auditRows(ctx, ids);
      [ids, bytes] = [[], 0];
    }
    ids.push(head.id);
    bytes += head.bytes;
  }
  yield* auditRows(ctx, ids);
}

async function* auditRows(ctx: Ctx, ids: readonly string[]): AsyncGenerator<Entry> {
  const rows = await ctx.tx
    .select()
    .from(audit)
    .where(and(eq(audit.clubId, ctx.club), inArray(audit.id, [...ids])))
    .orderBy(asc(audit.id));
  for (const row of rows) yield auditEntry(row);
}
