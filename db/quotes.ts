import { and, desc, eq, inArray, lt, or, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { QuoteRequest } from '../worker/engine/model/job.ts';
import { record, type Ctx } from './club.ts';
import { Conflict, Invalid, NotFound } from './errors.ts';
import { unknownOptions } from './options.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { loomRevisions, looms, quoteLooms, quotes, tasks, type PinnedRequest } from './schema/index.ts';
import type { Task } from './tasks.ts';

type QuoteRow = typeof quotes.$inferSelect;

/** A quote without its big texts, with its task. */
export interface StoredQuote {
  quote: Omit<QuoteRow, 'job' | 'result'>;
  task: Task;
}

const head = {
  clubId: quotes.clubId,
  id: quotes.id,
  taskId: quotes.taskId,
  asOf: quotes.asOf,
  request: quotes.request,
  jobHash: quotes.jobHash,
  createdAt: quotes.createdAt,
  createdBy: quotes.createdBy,
};

/**
 * A quote and its task, in one transaction; every loom is pinned to a revision. The caller wakes a worker after the commit.
 * Error: Invalid for looms, revisions or options that are not there.
 */
export async function createQuote({ ctx, input }: { ctx: Ctx; input: QuoteRequest }): Promise<StoredQuote> {
  const pinned = await pin(ctx, input);
  const createdAt = ctx.now();
  const id = ctx.newId();
  const [task] = await ctx.tx
    .insert(tasks)
    .values({
      clubId: ctx.club,
      id: ctx.newId(),
      kind: 'quote',
      subject: id,
      state: 'queued',
      wokenAt: createdAt,
      createdAt,
      progress: { phase: 'loading', message: 'Waiting for a worker.' },
    })
    .returning();
  if (!task) throw new Error('the task was not stored');
  const [quote] = await ctx.tx
    .insert(quotes)
    .values({
      clubId: ctx.club,
      id,
      taskId: task.id,
      asOf: input.asOf ?? createdAt.toISOString().slice(0, 10),
      request: { looms: pinned, ...(input.settings ? { settings: input.settings } : {}) },
      createdAt,
      createdBy: ctx.actor,
    })
    .returning(head);
  if (!quote) throw new Error('the quote was not stored');
  await ctx.tx
    .insert(quoteLooms)
    .values(
      pinned.map(({ loom, revision }) => ({ clubId: ctx.club, quoteId: quote.id, loomCode: loom, revision })),
    );
  await record(ctx, 'quote.create', quote.id);
  return { quote, task };
}

async function pin(ctx: Ctx, input: QuoteRequest) {
  const codes = input.looms.map((line) => line.loom);
  const heads = await ctx.tx
    .select({ code: looms.code, latest: looms.latestRevision })
    .from(looms)
    .where(and(eq(looms.clubId, ctx.club), inArray(looms.code, codes)));
  const latest = new Map(heads.map((row) => [row.code, row.latest]));
  const findings: Finding[] = [];
  const pinned = input.looms.map((line, index) => {
    const last = latest.get(line.loom);
    const revision = line.revision ?? last ?? 0;
    if (last === undefined)
      findings.push(
        missing(index, 'loom', line.loom, `There is no loom ${line.loom}. Add it first, or name another.`),
      );
    else if (revision > last)
      findings.push(
        missing(
          index,
          'revision',
          revision,
          `The latest revision of ${line.loom} is ${last}. Name one up to that, or leave it out.`,
        ),
      );
    const { loom, quantity, options } = line;
    return { loom, revision, quantity, ...(options ? { options } : {}) };
  });
  findings.push(...(await optionFaults(ctx, pinned)));
  if (findings.length > 0) throw new Invalid(findings);
  return pinned;
}

/** One of the two drivers hands JSON on as text. */
function listOfJson(value: unknown): string[] {
  return (typeof value === 'string' ? JSON.parse(value) : value) as string[];
}

/** Options that are asked for and that the pinned revisions do not have; of what is not there, nothing is said twice. */
async function optionFaults(ctx: Ctx, pinned: PinnedRequest['looms']): Promise<Finding[]> {
  const asking = pinned.filter(({ options = [] }) => options.length > 0);
  if (asking.length === 0) return [];
  const rows = await ctx.tx
    .select({
      code: loomRevisions.loomCode,
      options: sql<string[] | null>`${loomRevisions.body} -> 'options'`.mapWith(listOfJson),
    })
    .from(loomRevisions)
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        or(
          ...asking.map(({ loom, revision }) =>
            and(eq(loomRevisions.loomCode, loom), eq(loomRevisions.revision, revision)),
          ),
        ),
      ),
    );
  const stored = new Map(rows.map((row) => [row.code, row]));
  return pinned.flatMap(({ loom, options = [] }, index) => {
    const revision = stored.get(loom);
    if (!revision) return [];
    const place = { path: ['looms', index, 'options'], where: `loom number ${index + 1}, option` };
    return unknownOptions(revision, options, place);
  });
}

function missing(index: number, field: 'loom' | 'revision', found: string | number, todo: string): Finding {
  return {
    code: `unknown-${field}`,
    severity: 'stop',
    at: pointer(['looms', index, field]),
    where: `loom number ${index + 1}, ${field}`,
    found: JSON.stringify(found),
    todo,
  };
}

/** Error: NotFound. */
export async function getQuote({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<StoredQuote> {
  const rows = await ctx.tx
    .select({ quote: head, task: tasks })
    .from(quotes)
    .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, input.id)));
  if (!rows[0]) throw new NotFound(`quote ${input.id}`);
  return rows[0];
}

/** Newest first; ids are made in order of time. */
export async function listQuotes({ ctx, input }: { ctx: Ctx; input: PageInput }): Promise<Page<StoredQuote>> {
  const rows = await ctx.tx
    .select({ quote: head, task: tasks })
    .from(quotes)
    .innerJoin(tasks, and(eq(tasks.clubId, quotes.clubId), eq(tasks.id, quotes.taskId)))
    .where(
      and(eq(quotes.clubId, ctx.club), input.after === undefined ? undefined : lt(quotes.id, input.after)),
    )
    .orderBy(desc(quotes.id))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => row.quote.id,
    (row) => row,
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
  const rows = await ctx.tx
    .select({ text: input.which === 'job' ? quotes.job : quotes.result })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, input.id)));
  const text = rows[0]?.text;
  if (typeof text === 'string') return text;
  if (task.state === 'queued' || task.state === 'running')
    throw new Conflict('not-finished', `The quote is still being worked out; watch its task ${task.id}.`);
  throw new Conflict(
    'no-result',
    `The task of this quote ended without a result (${task.state}). Ask for a new quote.`,
  );
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
