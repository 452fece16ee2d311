import { and, eq, or } from 'drizzle-orm';
import { documentText } from '../../worker/engine/model/canonical.ts';
import { pointer } from '../../worker/engine/model/finding.ts';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { keepLoomsOf, keepOffersOf } from '../quotes.ts';
import { loomRevisions, looms, quotes, tasks, winningPrices } from '../schema/index.ts';
import type { Task } from '../tasks.ts';
import type { EntryOf, TaskEntry } from './entries.ts';
import { requireMembers } from './importMembers.ts';
import { ownedIn } from './owned.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';
import { quoteEntry, winningPriceEntry } from './stored.ts';

/** A task that waits, and is to be woken after the commit. */
export type Waiting = Pick<Task, 'id' | 'wakeNumber'>;

/** Writes a quote that the club does not have, with its task. Error: Invalid for revisions and an owner that are not there. */
export async function importQuote(
  ctx: Ctx,
  placed: Placed<EntryOf<'quote'>>,
  told: Tally,
): Promise<Waiting | undefined> {
  const { entry } = placed;
  const [row] = await ctx.tx
    .select({ quote: quotes, task: tasks })
    .from(quotes)
    .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, entry.id)));
  if (row) {
    told.count(isSame(quoteEntry(row.quote, row.task), entry) ? 'equal' : 'differs', placed);
    return undefined;
  }
  await requireMembers(ctx, [placed], 'owner', ({ owner }) => owner);
  await requireRevisions(ctx, placed);
  const owned = ownedIn(entry);
  const task = await storeTask(ctx, { kind: 'quote', subject: entry.id, ...owned }, entry.task);
  const { id, asOf, request, jobHash = null, job, result, createdBy } = entry;
  await ctx.tx.insert(quotes).values({
    clubId: ctx.club,
    id,
    taskId: task.id,
    asOf,
    request,
    keepUntil: entry.keepUntil ?? null,
    jobHash,
    job: job ? documentText(job) : null,
    result: result ? documentText(result) : null,
    createdAt: new Date(entry.createdAt),
    createdBy,
    ...owned,
  });
  await keepLoomsOf(ctx, id, request);
  if (result) await keepOffersOf(ctx, id, documentText(result));
  told.count('new', placed);
  return entry.task.state === 'queued' ? task : undefined;
}

/** Writes an offer's winning price that the club does not have. */
export async function importWinningPrice(
  ctx: Ctx,
  placed: Placed<EntryOf<'winningPrice'>>,
  told: Tally,
): Promise<Waiting | undefined> {
  const { entry } = placed;
  const { quote, offer, answer, createdBy } = entry;
  const [row] = await ctx.tx
    .select({ asked: winningPrices, task: tasks })
    .from(winningPrices)
    .innerJoin(tasks, and(eq(tasks.clubId, winningPrices.clubId), eq(tasks.id, winningPrices.taskId)))
    .where(
      and(
        eq(winningPrices.clubId, ctx.club),
        eq(winningPrices.quoteId, quote),
        eq(winningPrices.offerCode, offer),
      ),
    );
  if (row) {
    told.count(isSame(winningPriceEntry(row.asked, row.task), entry) ? 'equal' : 'differs', placed);
    return undefined;
  }
  const [owned] = await ctx.tx
    .select({ ownerId: quotes.ownerId, private: quotes.private })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, quote)));
  const of = { kind: 'winningPrice', subject: quote, offerCode: offer, ...owned } as const;
  const task = await storeTask(ctx, of, entry.task);
  await ctx.tx.insert(winningPrices).values({
    clubId: ctx.club,
    quoteId: quote,
    offerCode: offer,
    taskId: task.id,
    answer: answer ? documentText(answer) : null,
    createdAt: new Date(entry.createdAt),
    createdBy,
  });
  told.count('new', placed);
  return entry.task.state === 'queued' ? task : undefined;
}

/** A task's id is unique among all clubs, so it gets a new one: nobody learns from it what another club has. */
async function storeTask(
  ctx: Ctx,
  of: Pick<typeof tasks.$inferInsert, 'kind' | 'subject' | 'offerCode' | 'ownerId' | 'private'>,
  task: TaskEntry,
): Promise<Waiting> {
  const ended =
    task.state === 'queued'
      ? { progress: { phase: 'loading' as const, message: 'Waiting for a worker.' } }
      : {
          attempts: task.attempts,
          progressNumber: task.progressNumber,
          progress: task.progress,
          problem: task.problem ?? null,
          startedAt: task.startedAt === undefined ? null : new Date(task.startedAt),
          finishedAt: task.finishedAt === undefined ? null : new Date(task.finishedAt),
          workSeconds: task.workSeconds ?? null,
        };
  const [stored] = await ctx.tx
    .insert(tasks)
    .values({
      clubId: ctx.club,
      id: ctx.newId(),
      ...of,
      state: task.state,
      cancelAsked: task.cancelAsked,
      createdAt: new Date(task.createdAt),
      wokenAt: ctx.now(),
      ...(ended as Pick<typeof tasks.$inferInsert, 'progress'>),
    })
    .returning({ id: tasks.id, wakeNumber: tasks.wakeNumber });
  if (!stored) throw new Error('the task was not stored');
  return stored;
}

/** Error: Invalid for revisions that the club does not have, or of looms that the quote would show to others than their owner. */
async function requireRevisions(ctx: Ctx, { line, entry }: Placed<EntryOf<'quote'>>): Promise<void> {
  const asked = entry.request.looms;
  const rows = await ctx.tx
    .select({
      loom: loomRevisions.loomCode,
      revision: loomRevisions.revision,
      ownerId: looms.ownerId,
      private: looms.private,
    })
    .from(loomRevisions)
    .innerJoin(looms, and(eq(looms.clubId, loomRevisions.clubId), eq(looms.code, loomRevisions.loomCode)))
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        or(
          ...asked.map(({ loom, revision }) =>
            and(eq(loomRevisions.loomCode, loom), eq(loomRevisions.revision, revision)),
          ),
        ),
      ),
    );
  const quote = ownedIn(entry);
  const shown = rows.filter((loom) => !loom.private || (quote.private && quote.ownerId === loom.ownerId));
  const there = new Set(shown.map(({ loom, revision }) => `${loom}/${revision}`));
  const findings = asked.flatMap(({ loom, revision }, at) =>
    there.has(`${loom}/${revision}`)
      ? []
      : [
          {
            code: 'unknown-revision',
            severity: 'stop' as const,
            at: pointer(['request', 'looms', at]),
            where: `line ${line}, request, looms, number ${at + 1}`,
            found: `revision ${revision} of ${loom}`,
            todo: 'The archive is incomplete: it does not have this revision. Take it again from where it came.',
          },
        ],
  );
  if (findings.length > 0) throw new Invalid(findings);
}
