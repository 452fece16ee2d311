import { and, eq, type SQL } from 'drizzle-orm';
import { namesOf } from './actors.ts';
import type { Ctx } from './club.ts';
import { NotFound } from './errors.ts';
import type { FitName } from './fits.ts';
import { seenByOf } from './own.ts';
import type { SeenBy } from './schema/columns.ts';
import { fits, lanes, looms, members, offers, parts, rates, stock, suppliers } from './schema/index.ts';

/** Who put something in and who last changed it; null where that was before members were kept. */
export interface About {
  createdAt: Date;
  createdBy: string | null;
  updatedAt: Date;
  updatedBy: string | null;
}

const TABLES = { parts, suppliers, offers, rates, lanes, stock };
const WORDS = {
  parts: 'part',
  suppliers: 'supplier',
  offers: 'offer',
  rates: 'rate',
  lanes: 'lane',
  stock: 'stock item',
} as const;
export type AboutKind = keyof typeof TABLES;

/** Error: NotFound. */
export async function aboutEntry({
  ctx,
  input: { kind, code },
}: {
  ctx: Ctx;
  input: { kind: AboutKind; code: string };
}): Promise<About> {
  // Drizzle cannot see that the tables agree in these columns.
  const table = TABLES[kind] as unknown as typeof parts;
  const one = and(eq(table.clubId, ctx.club), eq(table.code, code));
  return named(ctx, await dated(ctx, table, one), `${WORDS[kind]} ${code}`);
}

/** Error: NotFound. */
export async function aboutFit({ ctx, input }: { ctx: Ctx; input: FitName }): Promise<About> {
  const { from, relation, to } = input;
  const one = and(
    eq(fits.clubId, ctx.club),
    eq(fits.fromPart, from),
    eq(fits.relation, relation),
    eq(fits.toPart, to),
  );
  return named(ctx, await dated(ctx, fits, one), `fit ${from}/${relation}/${to}`);
}

/** With whose it is: null, the club’s. Error: NotFound. */
export async function aboutLoom({
  ctx,
  input: { code },
}: {
  ctx: Ctx;
  input: { code: string };
}): Promise<About & { owner: string | null; seenBy: SeenBy }> {
  const one = and(eq(looms.clubId, ctx.club), eq(looms.code, code));
  const about = await named(ctx, await dated(ctx, looms, one), `loom ${code}`);
  const [row] = await ctx.tx
    .select({ private: looms.private, owner: members.name })
    .from(looms)
    .leftJoin(members, and(eq(members.clubId, looms.clubId), eq(members.id, looms.ownerId)))
    .where(one);
  if (!row) throw new NotFound(`loom ${code}`);
  return { ...about, owner: row.owner, seenBy: seenByOf(row) };
}

async function dated(
  ctx: Ctx,
  table: typeof parts | typeof fits | typeof looms,
  one: SQL | undefined,
): Promise<About | undefined> {
  const { createdAt, createdBy, updatedAt, updatedBy } = table;
  const [row] = await ctx.tx.select({ createdAt, createdBy, updatedAt, updatedBy }).from(table).where(one);
  return row;
}

/** Error: NotFound where there is no row. */
async function named(ctx: Ctx, row: About | undefined, what: string): Promise<About> {
  if (!row) throw new NotFound(what);
  const { createdBy, updatedBy } = row;
  const who = await namesOf(
    ctx,
    [createdBy, updatedBy].filter((actor) => actor !== null),
  );
  const nameOf = (actor: string | null) => (actor === null ? null : (who.get(actor) ?? actor));
  return { ...row, createdBy: nameOf(createdBy), updatedBy: nameOf(updatedBy) };
}
