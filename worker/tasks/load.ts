import { asClub, type ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import { jobWith } from '../../db/jobs.ts';
import { getQuote, getQuoteText, loomsOfQuote, storedText } from '../../db/quotes.ts';
import type { Task } from '../../db/tasks.ts';
import type { What } from '../threads/messages.ts';

/** What a task has a thread do, and with which job. */
export interface Loaded {
  job: unknown;
  what: What;
}

/**
 * What a task is worked from: a quote from what is stored now, and again from the same job where its worker ended after the
 * quote was there; an offer's price from the job that the quote was worked from.
 */
export async function loadTask(database: Database, ctx: ClubCtx, task: Task): Promise<Loaded> {
  const { subject, offerCode } = task;
  if (offerCode === null) return { job: await loadJob(database, ctx, subject), what: { kind: 'price' } };
  const text = await asClub(database, ctx, (ctx) =>
    getQuoteText({ ctx, input: { id: subject, which: 'job' } }),
  );
  return { job: JSON.parse(text) as unknown, what: { kind: 'winningPrice', offer: offerCode } };
}

/** What is stored, as a job: all of it as of one moment. The shape is that of a job file; the engine's thread checks it. */
export function loadJob(database: Database, ctx: ClubCtx, quoteId: string): Promise<unknown> {
  return asClub(
    database,
    ctx,
    async (ctx) => {
      const before = await storedText({ ctx, input: { id: quoteId, which: 'job' } });
      if (before !== undefined) return JSON.parse(before) as unknown;
      const { quote } = await getQuote({ ctx, input: { id: quoteId } });
      const looms = await loomsOfQuote({ ctx, input: { id: quoteId } });
      return jobWith({
        ctx,
        input: {
          asOf: quote.asOf,
          looms,
          request: quote.request,
          owner: quote.ownerId,
          restOf: quote.restOf,
        },
      });
    },
    { snapshot: true },
  );
}
