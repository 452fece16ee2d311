import { and, eq } from 'drizzle-orm';
import type { Settings } from '../worker/engine/model/settings.ts';
import { enterClub, record, type ClubCtx, type Ctx } from './club.ts';
import type { Tx } from './connect.ts';
import { NotFound, Stale } from './errors.ts';
import { clubs } from './schema/index.ts';
import type { Version } from './version.ts';

export type Club = typeof clubs.$inferSelect;

export async function getClub({ ctx }: { ctx: Ctx }): Promise<Club> {
  const rows = await ctx.tx.select().from(clubs).where(eq(clubs.id, ctx.club));
  if (!rows[0]) throw new NotFound('club');
  return rows[0];
}

/** Errors: Stale. */
export async function setClubTerms({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { currency: string; settings: Settings; version: Version };
}): Promise<Club> {
  const { currency, settings, version } = input;
  const rows = await ctx.tx
    .update(clubs)
    .set({ currency, settings, version: version.number + 1 })
    .where(
      and(
        eq(clubs.id, ctx.club),
        eq(clubs.version, version.number),
        eq(clubs.createdAt, new Date(version.born)),
      ),
    )
    .returning();
  if (!rows[0]) throw new Stale();
  await record(ctx, 'club.terms', ctx.club);
  return rows[0];
}

/** Who makes a club, with what clock and ids: a context without the club that is to be. */
export type Founder = Omit<ClubCtx, 'club'>;

/** The club of that name, made where there is none; what follows in the transaction is held to it. */
export async function clubNamed(
  tx: Tx,
  founder: Founder,
  input: { name: string; currency: string },
): Promise<{ club: Club; made: boolean; ctx: Ctx }> {
  const [made] = await tx
    .insert(clubs)
    .values({ id: founder.newId(), ...input, settings: {}, createdAt: founder.now() })
    .onConflictDoNothing()
    .returning();
  const [club] = made ? [made] : await tx.select().from(clubs).where(eq(clubs.name, input.name));
  if (!club) throw new NotFound(`club ${input.name}`);
  const ctx = await enterClub(tx, { ...founder, club: club.id });
  if (made) await record(ctx, 'club.create', club.id);
  return { club, made: made !== undefined, ctx };
}
