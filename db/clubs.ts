import { and, eq, sql } from 'drizzle-orm';
import type { Buyer } from '../worker/engine/model/buyer.ts';
import { byCode } from '../worker/engine/model/code.ts';
import type { ClubTerms } from '../worker/engine/model/job.ts';
import type { ClubSettings } from '../worker/engine/model/settings.ts';
import { enterClub, record, type ClubCtx, type Ctx } from './club.ts';
import type { Tx } from './connect.ts';
import { Conflict, constraintOf, NotFound, Stale } from './errors.ts';
import { clubs } from './schema/index.ts';
import { versionIn, type Changeable } from './version.ts';

export type Club = typeof clubs.$inferSelect;

export async function getClub({ ctx }: { ctx: Ctx }): Promise<Club> {
  const rows = await ctx.tx.select().from(clubs).where(eq(clubs.id, ctx.club));
  if (!rows[0]) throw new NotFound('club');
  return rows[0];
}

/** Errors: Stale; Conflict where the currency is to change while there are rates into the one that it is. */
export async function setClubTerms({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: {
    currency: string;
    country?: string | undefined;
    buyer?: Buyer | undefined;
    settings: ClubSettings;
    version: Changeable;
  };
}): Promise<Club> {
  const { currency, country = null, buyer = null, settings, version } = input;
  const before = await getClub({ ctx });
  const asRead = and(eq(clubs.id, ctx.club), versionIn(clubs, version));
  try {
    // A savepoint: the refusal of a foreign key must not spoil the transaction around it.
    const club = await ctx.tx.transaction(async (tx) => {
      const terms = { currency, country, buyer, settings, version: sql`${clubs.version} + 1` };
      const [row] = await tx.update(clubs).set(terms).where(asRead).returning();
      return row;
    });
    if (!club) throw new Stale();
    await record(ctx, 'club.terms', ctx.club, { before: termsOf(before), after: termsOf(club) });
    return club;
  } catch (error) {
    if (constraintOf(error) !== 'rates_club_currency') throw error;
    throw new Conflict(
      'rates-in-currency',
      `The club’s rates are rates to its present currency and would be wrong for ${currency}. Remove the rates first. Then set the currency to ${currency} and enter them again.`,
    );
  }
}

/** All columns of a club that are its terms: what is null was never set. */
export function termsOf(club: Club): ClubTerms {
  const { id: _id, name: _name, version: _version, createdAt: _at, ...terms } = club;
  return Object.fromEntries(Object.entries(terms).filter(([, value]) => value !== null)) as ClubTerms;
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
  if (made) await record(ctx, 'club.create', club.id, { after: termsOf(club) });
  return { club, made: made !== undefined, ctx };
}

/** The names of all clubs, in byte order: for whoever holds the database, not for a key. */
export async function clubNames(tx: Tx): Promise<string[]> {
  const rows = await tx.select({ name: clubs.name }).from(clubs);
  return rows.map(({ name }) => name).sort(byCode);
}

/** The id of the club of that name, or undefined: for whoever holds the database, not for a key. */
export async function clubIdOf(tx: Tx, name: string): Promise<string | undefined> {
  const rows = await tx.select({ id: clubs.id }).from(clubs).where(eq(clubs.name, name));
  return rows[0]?.id;
}
