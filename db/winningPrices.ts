import { and, asc, eq, gt } from 'drizzle-orm';
import { privateToOf, record, type Ctx } from './club.ts';
import { Conflict, NotFound } from './errors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { getQuote, getQuoteText } from './quotes.ts';
import { tasks, winningPrices } from './schema/index.ts';
import { newTask, requireRoom, type Task } from './tasks.ts';

/** The price at which an offer of a quote is bought, as it was asked for, with its task. */
export interface StoredWinningPrice {
  asked: typeof winningPrices.$inferSelect;
  task: Task;
}

interface Named {
  quote: string;
  offer: string;
}

const one = (ctx: Ctx, { quote, offer }: Named) =>
  and(
    eq(winningPrices.clubId, ctx.club),
    eq(winningPrices.quoteId, quote),
    eq(winningPrices.offerCode, offer),
  );

/**
 * Asks for the price at which an offer of a quote is bought. The answer follows from the quote's job: what waits, is
 * worked or was answered is not asked again, and what failed or was cancelled is. The caller wakes a worker for a task that
 * waits, after the commit. Errors: NotFound; Conflict where the quote is not done, or its job does not have the offer;
 * QueueFull where `mostWaiting` tasks of the club wait.
 */
export async function askWinningPrice({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Named & { mostWaiting: number };
}): Promise<StoredWinningPrice> {
  const before = await found(ctx, input);
  if (before && before.task.state !== 'failed' && before.task.state !== 'cancelled') return before;
  if (!before) await requireOffer(ctx, input);
  const { quote, offer, mostWaiting } = input;
  await requireRoom({ ctx, input: { most: mostWaiting } });
  const { ownerId, private: isPrivate } = (await getQuote({ ctx, input: { id: quote } })).quote;
  const of = { subject: quote, ownerId, private: isPrivate };
  const task = await newTask({ ctx, input: { kind: 'winningPrice', offerCode: offer, ...of } });
  const values = { taskId: task.id, createdAt: ctx.now(), createdBy: ctx.actor };
  const [asked] = before
    ? await ctx.tx
        .update(winningPrices)
        .set(values)
        .where(and(one(ctx, input), eq(winningPrices.taskId, before.task.id)))
        .returning()
    : await ctx.tx
        .insert(winningPrices)
        .values({ clubId: ctx.club, quoteId: quote, offerCode: offer, ...values })
        .onConflictDoNothing()
        .returning();
  if (!asked)
    throw new Conflict(
      'asked-meanwhile',
      'Another request asked for the same at the same moment. Read its answer.',
    );
  await record(ctx, 'winning-price.ask', `${quote}/${offer}`, { privateTo: privateToOf(task) });
  return { asked, task };
}

async function found(ctx: Ctx, named: Named): Promise<StoredWinningPrice | undefined> {
  const rows = await ctx.tx
    .select({ asked: winningPrices, task: tasks })
    .from(winningPrices)
    .innerJoin(tasks, and(eq(tasks.clubId, winningPrices.clubId), eq(tasks.id, winningPrices.taskId)))
    .where(one(ctx, named));
  return rows[0];
}

/** Errors: NotFound; Conflict. */
async function requireOffer(ctx: Ctx, { quote, offer }: Named): Promise<void> {
  const text = await getQuoteText({ ctx, input: { id: quote, which: 'job' } });
  const { offers = [] } = JSON.parse(text) as { offers?: { code: string }[] };
  if (!offers.some(({ code }) => code === offer))
    throw new Conflict(
      'offer-not-in-quote',
      `The quote was made without the offer ${offer}: it did not exist then, or it sells nothing that is needed. Read the job of the quote to see its offers, or ask for a new quote.`,
    );
}

/** Error: NotFound for a quote, or an offer whose price was not asked for. */
export async function getWinningPrice({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Named;
}): Promise<StoredWinningPrice> {
  const stored = await found(ctx, input);
  if (!stored) throw new NotFound(`winning price of ${input.offer} for quote ${input.quote}`);
  return stored;
}

/** By the offer's code. Error: NotFound for the quote. */
export async function listWinningPrices({
  ctx,
  input: { quote, limit, after },
}: {
  ctx: Ctx;
  input: PageInput & { quote: string };
}): Promise<Page<StoredWinningPrice>> {
  await getQuote({ ctx, input: { id: quote } });
  const rows = await ctx.tx
    .select({ asked: winningPrices, task: tasks })
    .from(winningPrices)
    .innerJoin(tasks, and(eq(tasks.clubId, winningPrices.clubId), eq(tasks.id, winningPrices.taskId)))
    .where(
      and(
        eq(winningPrices.clubId, ctx.club),
        eq(winningPrices.quoteId, quote),
        after === undefined ? undefined : gt(winningPrices.offerCode, after),
      ),
    )
    .orderBy(asc(winningPrices.offerCode))
    .limit(limit + 1);
  return pageOf(
    rows,
    limit,
    ({ asked }) => asked.offerCode,
    (row) => row,
  );
}

/** Keeps what a task worked out, in the transaction that ends it. */
export async function storeWinningPrice({
  ctx,
  input: { task, answer },
}: {
  ctx: Ctx;
  input: { task: string; answer: string };
}): Promise<void> {
  await ctx.tx
    .update(winningPrices)
    .set({ answer })
    .where(and(eq(winningPrices.clubId, ctx.club), eq(winningPrices.taskId, task)));
}
