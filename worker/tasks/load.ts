import { asClub, type ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import { jobWith } from '../../db/jobs.ts';
import { getQuote, loomsOfQuote } from '../../db/quotes.ts';

/** What is stored, as a job: all of it as of one moment. The shape is that of a job file; the engine's thread checks it. */
export function loadJob(database: Database, ctx: ClubCtx, quoteId: string): Promise<unknown> {
  return asClub(
    database,
    ctx,
    async (ctx) => {
      const { quote } = await getQuote({ ctx, input: { id: quoteId } });
      const looms = await loomsOfQuote({ ctx, input: { id: quoteId } });
      return jobWith({ ctx, input: { asOf: quote.asOf, looms, request: quote.request } });
    },
    { snapshot: true },
  );
}
