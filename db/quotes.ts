import { and, desc, eq, lt, sql } from 'drizzle-orm';
import type { QuoteRequest } from '../worker/engine/model/job.ts';
import { privateToOf, record, type Ctx } from './club.ts';
import { Conflict, NotFound } from './errors.ts';
import { insertMany } from './insertMany.ts';
import { getMember } from './members.ts';
import { ownedBy } from './own.ts';
import { ownerAsked } from './ownerAsked.ts';
import { pageOf, type ListInput, type Page } from './page.ts';
import { pinRequest } from './pin.ts';
import type { SeenBy } from './schema/columns.ts';
import {
  loomRevisions,
  members,
  quoteLooms,
  quoteOffers,
  quotes,
  tasks,
  type PinnedRequest,
  type TaskState,
} from './schema/index.ts';
import { hasPrivateLoom, privateLoom } from './seenBy.ts';
import { inOrder, newestChange, type Sorts } from './sorting.ts';
import { newTask, type Task } from './tasks.ts';

type QuoteRow = typeof quotes.$inferSelect;

/** A quote without its big texts, with its task. */
export interface StoredQuote {
  quote: Omit<QuoteRow, 'job' | 'result'> & { hasResult: boolean };
  task: Task;
  /** The owner’s name; null: the club’s. */
  owner: string | null;
}

const head = {
  clubId: quotes.clubId,
  id: quotes.id,
  taskId: quotes.taskId,
  asOf: quotes.asOf,
  request: quotes.request,
  restOf: quotes.restOf,
  keepUntil: quotes.keepUntil,
  jobHash: quotes.jobHash,
  createdAt: quotes.createdAt,
  createdBy: quotes.createdBy,
  ownerId: quotes.ownerId,
  private: quotes.private,
  hasResult: sql<boolean>`${quotes.result} is not null`,
};

/**
 * A quote and its task, in one transaction; every loom is pinned to a revision. The caller wakes a worker after the commit.
 * `restOf`: the quote of whose looms it buys what is still missing. It is seen by the member who asks alone where they say so,
 * and where a loom of it is. Errors: Invalid for looms, revisions, options, suppliers, parts or offers that are not there;
 * Conflict where the club is to see a loom that it does not see; Forbidden where nobody is there to see it alone.
 */
export async function createQuote({
  ctx,
  input,
  seenBy,
  restOf = null,
}: {
  ctx: Ctx;
  input: QuoteRequest;
  seenBy?: SeenBy | undefined;
  restOf?: string | null;
}): Promise<StoredQuote> {
  const request = await pinRequest(ctx, input);
  const hides = await hasPrivateLoom(
    ctx,
    request.looms.map(({ loom }) => loom),
  );
  if (hides && seenBy === 'club') throw privateLoom();
  const owned = ownedBy(ctx, hides ? 'owner' : seenBy);
  const createdAt = ctx.now();
  const id = ctx.newId();
  const task = await newTask({ ctx, input: { kind: 'quote', subject: id, ...owned } });
  const [quote] = await ctx.tx
    .insert(quotes)
    .values({
      clubId: ctx.club,
      id,
      taskId: task.id,
      asOf: input.asOf ?? createdAt.toISOString().slice(0, 10),
      request,
      restOf,
      createdAt,
      createdBy: ctx.actor,
      ...owned,
    })
    .returning(head);
  if (!quote) throw new Error('the quote was not stored');
  await keepLoomsOf(ctx, quote.id, request);
  await record(ctx, 'quote.create', quote.id, { after: request, privateTo: privateToOf(quote) });
  return { quote, task, owner: await nameOfOwner(ctx, owned.ownerId) };
}

async function nameOfOwner(ctx: Ctx, id: string | null): Promise<string | null> {
  return id === null ? null : (await getMember({ ctx, input: { id } })).name;
}

/** Keeps which revisions a quote was pinned to, so that they stay. */
export async function keepLoomsOf(ctx: Ctx, quoteId: string, { looms }: PinnedRequest): Promise<void> {
  // A loom has one revision in a quote, with whatever options and in whichever orders.
  const revisions = new Map(looms.map(({ loom, revision }) => [loom, revision]));
  await ctx.tx
    .insert(quoteLooms)
    .values(
      [...revisions].map(([loomCode, revision]) => ({ clubId: ctx.club, quoteId, loomCode, revision })),
    );
}

/** Error: NotFound. */
export async function getQuote({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<StoredQuote> {
  const rows = await ctx.tx
    .select({ quote: head, task: tasks, owner: members.name })
    .from(quotes)
    .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
    .leftJoin(members, and(eq(members.clubId, quotes.clubId), eq(members.id, quotes.ownerId)))
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, input.id)));
  if (!rows[0]) throw new NotFound(`quote ${input.id}`);
  return rows[0];
}

// Of a quote its task is what changes.
const SORTS: Sorts = {
  newest: undefined,
  updated: newestChange(sql`coalesce(${tasks.finishedAt}, ${tasks.startedAt}, ${tasks.createdAt})`),
};
/** By what a list of quotes can be sorted. */
export const QUOTE_SORTS = Object.keys(SORTS);

/**
 * Newest first, or the newest change first; ids are made in order of time. `owner`: only those of this member, by id or `me`.
 * Error: Invalid for a member who is not there.
 */
export async function listQuotes({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Omit<ListInput, 'filters'> & { state?: TaskState | undefined; owner?: string | undefined };
}): Promise<Page<StoredQuote>> {
  const { state, after } = input;
  const owner = input.owner === undefined ? undefined : await ownerAsked(ctx, input.owner);
  const { beyond, order, told, placeOf } = inOrder(SORTS, [quotes.id], input);
  const byChange = input.sort === 'updated';
  const rows = await ctx.tx
    .select({ quote: head, task: tasks, owner: members.name, told })
    .from(quotes)
    .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
    .leftJoin(members, and(eq(members.clubId, quotes.clubId), eq(members.id, quotes.ownerId)))
    .where(
      and(
        eq(quotes.clubId, ctx.club),
        state === undefined ? undefined : eq(tasks.state, state),
        owner === undefined ? undefined : eq(quotes.ownerId, owner),
        byChange ? beyond : after === undefined ? undefined : lt(quotes.id, after),
      ),
    )
    .orderBy(...(byChange ? order : [desc(quotes.id)]))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => placeOf(row.quote.id, row.told),
    ({ told: _told, ...stored }) => stored,
  );
}

/** The job or the result as the very bytes that were stored. Errors: NotFound, Conflict where there is none (yet). */
export async function getQuoteText({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { id: string; which: 'job' | 'result' };
}): Promise<string> {
  const { task } = await getQuote({ ctx, input });
  const text = await storedText({ ctx, input });
  if (text !== undefined) return text;
  if (task.state === 'queued' || task.state === 'running')
    throw new Conflict(
      'not-finished',
      `The quote is not ready yet. Follow its task ${task.id}, and read it when the task is done.`,
    );
  throw new Conflict(
    'no-result',
    `The task of this quote ended without a result (${task.state}). Ask for a new quote.`,
  );
}

/** The job or the result of a quote whose task has not ended, where it is there; undefined where not. */
export async function storedText({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { id: string; which: 'job' | 'result' };
}): Promise<string | undefined> {
  const rows = await ctx.tx
    .select({ text: input.which === 'job' ? quotes.job : quotes.result })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, input.id)));
  return rows[0]?.text ?? undefined;
}

/** Puts a result in the place of the one that a quote has. */
export async function replaceResult({
  ctx,
  input: { id, result },
}: {
  ctx: Ctx;
  input: { id: string; result: string };
}): Promise<void> {
  await ctx.tx
    .update(quotes)
    .set({ result })
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, id)));
  await keepOffersOf(ctx, id, result);
}

/** Keeps what a quote's task worked out: the job that it was worked from, its hash, and the result. */
export async function storeResult({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { id: string; job: string; jobHash: string; result: string };
}): Promise<void> {
  const { id, job, jobHash, result } = input;
  await ctx.tx
    .update(quotes)
    .set({ job, jobHash, result })
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, id)));
  await keepOffersOf(ctx, id, result);
}

/** Keeps which offers a result buys, so that they are found by what quotes use. */
export async function keepOffersOf(ctx: Ctx, quoteId: string, result: string): Promise<void> {
  const { purchases = [] } = JSON.parse(result) as { purchases?: { offer: string }[] };
  await ctx.tx
    .delete(quoteOffers)
    .where(and(eq(quoteOffers.clubId, ctx.club), eq(quoteOffers.quoteId, quoteId)));
  const rows = [...new Set(purchases.map(({ offer }) => offer))].map((offerCode) => ({
    clubId: ctx.club,
    quoteId,
    offerCode,
  }));
  await insertMany(ctx, quoteOffers, rows);
}

/** The looms of a quote, in the revisions that it was pinned to. */
export async function loomsOfQuote({ ctx, input }: { ctx: Ctx; input: { id: string } }) {
  return ctx.tx
    .select({ code: quoteLooms.loomCode, revision: quoteLooms.revision, body: loomRevisions.body })
    .from(quoteLooms)
    .innerJoin(
      loomRevisions,
      and(
        eq(loomRevisions.clubId, quoteLooms.clubId),
        eq(loomRevisions.loomCode, quoteLooms.loomCode),
        eq(loomRevisions.revision, quoteLooms.revision),
      ),
    )
    .where(and(eq(quoteLooms.clubId, ctx.club), eq(quoteLooms.quoteId, input.id)));
}
