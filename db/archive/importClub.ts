import { eq, sql } from 'drizzle-orm';
import { asClub, record, type ClubCtx, type Ctx } from '../club.ts';
import { getClub, termsOf } from '../clubs.ts';
import type { Database } from '../connect.ts';
import { clubs, lanes, looms, parts, quotes, rates, suppliers } from '../schema/index.ts';
import type { Entry, EntryOf, EntryType } from './entries.ts';
import { importAudit } from './importAudit.ts';
import { importCatalogue, importFits, isCodeType } from './importCatalogue.ts';
import { importFitReport } from './importFitReport.ts';
import { importLoom, importRevision } from './importLooms.ts';
import { importMembers } from './importMembers.ts';
import { importOfferPrices } from './importOfferPrices.ts';
import { importSynonyms } from './importSynonyms.ts';
import { importMovements, shelfKeeper } from './importMovements.ts';
import { importOrder, importOrderEntry, importReceipt } from './importOrders.ts';
import { importReservation } from './importReservation.ts';
import { mergesKeeper } from './merges.ts';
import { importQuote, importWinningPrice, type Waiting } from './importQuotes.ts';
import { restsKeeper } from './rests.ts';
import { tally, total, type Placed, type Report, type Tally } from './report.ts';
import { isSame } from './same.ts';

/** What came of an import. */
export interface Imported extends Report {
  /** Whether the club has now all that the archive has: not with a preview, and not where something differs. */
  stands: boolean;
  /** Tasks that wait to be woken. */
  waiting: Waiting[];
}

/** Entries of one type that are written at once. */
const BATCH = 200;

/** Ends a transaction without what it wrote. */
class Undo extends Error {
  readonly report: Report;
  constructor(report: Report) {
    super('undone');
    this.report = report;
  }
}

/**
 * Brings a club what it does not have of an archive, in one transaction, reading the entries as they come. Nothing is written
 * where an entry of the same name is there and differs, or with `preview`: then the same is done, and undone. What
 * `entries` throws undoes it too. Errors: Invalid for an entry that names what is not there.
 */
export async function importClub(
  database: Database,
  base: ClubCtx,
  { entries, preview }: { entries: AsyncIterable<Placed>; preview: boolean },
): Promise<Imported> {
  try {
    // What members alone see comes back too, and is told from what is there already.
    return await asClub(database, { ...base, whole: true }, async (ctx) => {
      await inAnyOrder(ctx);
      const told = tally();
      const waiting: Waiting[] = [];
      const empty = await isEmpty(ctx);
      const merges = mergesKeeper(ctx);
      const keepers = [restsKeeper(ctx), shelfKeeper(ctx)];
      for await (const batch of batched(entries)) {
        await merges.before(batch);
        for (const keeper of keepers) keeper.see(batch);
        waiting.push(...(await importBatch(ctx, batch, told, empty)));
      }
      await merges.end();
      const report = told.report();
      if (total(report, 'differs') > 0) throw new Undo(report);
      for (const keeper of keepers) await keeper.end();
      if (preview) throw new Undo(report);
      if (total(report, 'new') > 0) await record(ctx, 'archive.import', ctx.club);
      return { ...report, stands: true, waiting };
    });
  } catch (error) {
    if (!(error instanceof Undo)) throw error;
    return { ...error.report, stands: false, waiting: [] };
  }
}

/** Revisions may name parts that were merged since, and parts what they became, which stands further down. */
async function inAnyOrder({ tx }: Ctx): Promise<void> {
  await tx.execute(sql`select set_config('loomwright.restoring', 'on', true)`);
  await tx.execute(sql`set constraints parts_merged_into deferred`);
}

/** Whether a club has nothing yet but its terms and keys. */
async function isEmpty(ctx: Ctx): Promise<boolean> {
  for (const table of [parts, suppliers, rates, lanes, looms, quotes]) {
    const rows = await ctx.tx
      .select({ club: table.clubId })
      .from(table)
      .where(eq(table.clubId, ctx.club))
      .limit(1);
    if (rows.length > 0) return false;
  }
  return true;
}

/** Neighbours of one type together. Types of which each entry is looked at by itself come one by one. */
async function* batched(entries: AsyncIterable<Placed>): AsyncGenerator<Placed[]> {
  let batch: Placed[] = [];
  for await (const placed of entries) {
    const { type } = placed.entry;
    const most = isSmall(placed.entry) ? BATCH : 1;
    if (batch.length > 0 && (batch[0]?.entry.type !== type || batch.length >= most)) {
      yield batch;
      batch = [];
    }
    batch.push(placed);
  }
  if (batch.length > 0) yield batch;
}

const BATCHED: EntryType[] = [
  'member',
  'part',
  'supplier',
  'offerPrice',
  'offer',
  'stock',
  'fit',
  'movement',
  'audit',
];

/** Rows of the history of looms and quotes have these in them. */
const isSmall = (entry: Entry): boolean =>
  BATCHED.includes(entry.type) && !(entry.type === 'audit' && /^(loom|quote)\./.test(entry.action));

async function importBatch(ctx: Ctx, batch: Placed[], told: Tally, empty: boolean): Promise<Waiting[]> {
  const [first] = batch;
  if (!first) return [];
  const { type } = first.entry;
  if (isCodeType(type)) await importCatalogue(ctx, batch as never, told);
  else if (type === 'fit') await importFits(ctx, batch as Placed<EntryOf<'fit'>>[], told);
  else if (type === 'fitReport') await importFitReport(ctx, first as Placed<EntryOf<'fitReport'>>, told);
  else if (type === 'member') await importMembers(ctx, batch as Placed<EntryOf<'member'>>[], told);
  else if (type === 'synonyms') await importSynonyms(ctx, first as Placed<EntryOf<'synonyms'>>, told);
  else if (type === 'offerPrice')
    await importOfferPrices(ctx, batch as Placed<EntryOf<'offerPrice'>>[], told);
  else if (type === 'audit') await importAudit(ctx, batch as Placed<EntryOf<'audit'>>[], told);
  else if (type === 'club') await importTerms(ctx, first as Placed<EntryOf<'club'>>, told, empty);
  else if (type === 'loom') await importLoom(ctx, first as Placed<EntryOf<'loom'>>, told);
  else if (type === 'order') await importOrder(ctx, first as Placed<EntryOf<'order'>>, told);
  else if (type === 'receipt') await importReceipt(ctx, first as Placed<EntryOf<'receipt'>>, told);
  else if (type === 'orderEntry') await importOrderEntry(ctx, first as Placed<EntryOf<'orderEntry'>>, told);
  else if (type === 'reservation')
    await importReservation(ctx, first as Placed<EntryOf<'reservation'>>, told);
  else if (type === 'movement') await importMovements(ctx, batch as Placed<EntryOf<'movement'>>[], told);
  else if (type === 'revision') await importRevision(ctx, first as Placed<EntryOf<'revision'>>, told);
  else {
    const task =
      type === 'quote'
        ? await importQuote(ctx, first as Placed<EntryOf<'quote'>>, told)
        : await importWinningPrice(ctx, first as Placed<EntryOf<'winningPrice'>>, told);
    return task ? [task] : [];
  }
  return [];
}

/** The terms of a club that has nothing yet are set; those of another stay. */
async function importTerms(
  ctx: Ctx,
  placed: Placed<EntryOf<'club'>>,
  told: Tally,
  empty: boolean,
): Promise<void> {
  const club = await getClub({ ctx });
  const { terms } = placed.entry;
  const same = isSame({ type: 'club', terms: termsOf(club) }, placed.entry);
  if (same || !empty) return told.count(same ? 'equal' : 'differs', placed);
  const { id: _id, name: _name, version, createdAt: _at, ...before } = club;
  const unset = Object.fromEntries(Object.keys(before).map((column) => [column, null]));
  await ctx.tx
    .update(clubs)
    .set({ ...unset, ...terms, version: version + 1 })
    .where(eq(clubs.id, ctx.club));
  told.count('new', placed);
}
