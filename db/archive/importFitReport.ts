import { and, eq } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { getFit } from '../fits.ts';
import { fitReports as table } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import { requireMembers } from './importMembers.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';
import { fitReportEntry } from './stored.ts';

/** Writes a report of a fit that the club does not have. Error: NotFound where its fit is not there. */
export async function importFitReport(
  ctx: Ctx,
  placed: Placed<EntryOf<'fitReport'>>,
  told: Tally,
): Promise<void> {
  const { from, relation, to, id, at, actor, member, says, vehicle, loom, note, photo } = placed.entry;
  const [row] = await ctx.tx
    .select()
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        eq(table.fromPart, from),
        eq(table.relation, relation),
        eq(table.toPart, to),
        eq(table.id, id),
      ),
    );
  if (row) return told.count(isSame(fitReportEntry(row), placed.entry) ? 'equal' : 'differs', placed);
  await requireMembers(ctx, [placed], 'member', (entry) => entry.member);
  await getFit({ ctx, input: { from, relation, to } });
  await ctx.tx.insert(table).values({
    clubId: ctx.club,
    fromPart: from,
    relation,
    toPart: to,
    id,
    memberId: member ?? null,
    actor,
    says,
    vehicle: vehicle ?? null,
    loomCode: loom ?? null,
    note: note ?? null,
    photo: photo ?? null,
    at: new Date(at),
  });
  told.count('new', placed);
}
