import { asClub, type ClubCtx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import type { Database } from '../../db/connect.ts';
import { allFits } from '../../db/fits.ts';
import { offers } from '../../db/offers.ts';
import { parts } from '../../db/parts.ts';
import { getQuote, loomsOfQuote } from '../../db/quotes.ts';
import { suppliers } from '../../db/suppliers.ts';
import { JOB_FORMAT, JOB_VERSION } from '../../worker/engine/model/job.ts';

/** What is stored, as a job: all of it as of one moment. The shape is that of a job file; the engine's thread checks it. */
export function loadJob(database: Database, ctx: ClubCtx, quoteId: string): Promise<unknown> {
  return asClub(
    database,
    ctx,
    async (ctx) => {
      const { quote } = await getQuote({ ctx, input: { id: quoteId } });
      const { currency, settings } = await getClub({ ctx });
      const looms = await loomsOfQuote({ ctx, input: { id: quoteId } });
      return {
        format: JOB_FORMAT,
        version: JOB_VERSION,
        asOf: quote.asOf,
        club: { currency, settings },
        parts: await parts.all({ ctx }),
        suppliers: await suppliers.all({ ctx }),
        offers: await offers.all({ ctx }),
        fits: await allFits({ ctx }),
        looms: looms.map(({ code, revision, body }) => ({ code, revision, ...body })),
        request: quote.request,
      };
    },
    { snapshot: true },
  );
}
