import { and, eq } from 'drizzle-orm';
import type { Settings } from '../worker/engine/model/settings.ts';
import { record, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { NotFound, Stale } from './errors.ts';
import { clubs } from './schema/index.ts';
import { asSystem } from './system.ts';

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
  input: { currency: string; settings: Settings; version: number };
}): Promise<Club> {
  const { currency, settings, version } = input;
  const rows = await ctx.tx
    .update(clubs)
    .set({ currency, settings, version: version + 1 })
    .where(and(eq(clubs.id, ctx.club), eq(clubs.version, version)))
    .returning();
  if (!rows[0]) throw new Stale((await getClub({ ctx })).version);
  await record(ctx, 'club.terms', ctx.club);
  return rows[0];
}

/** The club of that name, made where there is none. */
export function clubNamed(
  database: Database,
  input: { name: string; currency: string; id: string; now: Date },
): Promise<{ club: Club; made: boolean }> {
  return asSystem(database, async (tx) => {
    const made = await tx
      .insert(clubs)
      .values({
        id: input.id,
        name: input.name,
        currency: input.currency,
        settings: {},
        createdAt: input.now,
      })
      .onConflictDoNothing()
      .returning();
    if (made[0]) return { club: made[0], made: true };
    const rows = await tx.select().from(clubs).where(eq(clubs.name, input.name));
    if (!rows[0]) throw new NotFound(`club ${input.name}`);
    return { club: rows[0], made: false };
  });
}

/** Whether there is any club yet. */
export function hasClubs(database: Database): Promise<boolean> {
  return asSystem(
    database,
    async (tx) => (await tx.select({ id: clubs.id }).from(clubs).limit(1)).length > 0,
  );
}
