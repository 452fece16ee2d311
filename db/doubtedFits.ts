import { and, asc, eq, gte, sql } from 'drizzle-orm';
import type { DoubtedFit } from '../worker/engine/model/fit.ts';
import type { Ctx } from './club.ts';
import { fitReports, fits } from './schema/index.ts';

/**
 * Fits that are not refuted, and of which somebody reported since their last change that they do not fit, as a job states
 * them: nothing at all where there are none.
 */
export async function doubtedFits({ ctx }: { ctx: Ctx }): Promise<{ doubtedFits?: DoubtedFit[] }> {
  const { clubId, fromPart: from, relation, toPart: to } = fits;
  const rows = await ctx.tx
    .selectDistinct({ from, relation, to })
    .from(fits)
    .innerJoin(
      fitReports,
      and(
        eq(fitReports.clubId, clubId),
        eq(fitReports.fromPart, from),
        eq(fitReports.relation, relation),
        eq(fitReports.toPart, to),
      ),
    )
    .where(
      and(
        eq(clubId, ctx.club),
        sql`${fits.body} ->> 'status' <> 'refuted'`,
        eq(fitReports.says, 'doesNotFit'),
        gte(fitReports.at, fits.updatedAt),
      ),
    )
    .orderBy(asc(from), asc(relation), asc(to));
  return rows.length === 0 ? {} : { doubtedFits: rows };
}
