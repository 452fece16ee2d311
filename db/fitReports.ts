import { and, asc, eq, gt, sql } from 'drizzle-orm';
import { record, type Ctx } from './club.ts';
import { Forbidden, NotFound } from './errors.ts';
import { getFit, type FitName } from './fits.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { requireKnown } from './references.ts';
import { fitReports as table } from './schema/index.ts';
import { onlyProposes } from './standing.ts';

/** What somebody found of a fit, on which vehicle or loom. The address of a photo is kept and never fetched. */
export interface FitReport {
  says: 'fits' | 'doesNotFit';
  vehicle?: string | undefined;
  loom?: string | undefined;
  note?: string | undefined;
  photo?: string | undefined;
}

export interface StoredReport extends FitReport {
  id: string;
  /** The actor, as the record has it. */
  by: string;
  at: Date;
}

/** How many people's reports say which. */
export interface Counted {
  fits: number;
  doesNotFit: number;
}

type Row = typeof table.$inferSelect;

const words = ({ from, relation, to }: FitName) => `${from}/${relation}/${to}`;
const of = (ctx: Ctx, { from, relation, to }: FitName) =>
  and(
    eq(table.clubId, ctx.club),
    eq(table.fromPart, from),
    eq(table.relation, relation),
    eq(table.toPart, to),
  );

function reportOf({ id, actor, at, says, vehicle, loomCode, note, photo }: Row): StoredReport {
  return {
    id,
    by: actor,
    at,
    says,
    ...(vehicle === null ? {} : { vehicle }),
    ...(loomCode === null ? {} : { loom: loomCode }),
    ...(note === null ? {} : { note }),
    ...(photo === null ? {} : { photo }),
  };
}

/** Errors: NotFound where there is no such fit, Invalid for a loom that is not there. */
export async function addReport({
  ctx,
  input: { name, report },
}: {
  ctx: Ctx;
  input: { name: FitName; report: FitReport };
}): Promise<StoredReport> {
  await getFit({ ctx, input: name });
  const { says, vehicle = null, loom: loomCode = null, note = null, photo = null } = report;
  if (loomCode !== null) await requireKnown(ctx, 'loom', [{ code: loomCode, path: ['loom'] }]);
  const values: Row = {
    clubId: ctx.club,
    fromPart: name.from,
    relation: name.relation,
    toPart: name.to,
    id: ctx.newId(),
    memberId: ctx.member ?? null,
    actor: ctx.actor,
    says,
    vehicle,
    loomCode,
    note,
    photo,
    at: ctx.now(),
  };
  await ctx.tx.insert(table).values(values);
  await record(ctx, 'fit-report.create', `${words(name)}/${values.id}`, { after: report });
  return reportOf(values);
}

/** By id, which is by time, with the count of all. Error: NotFound where there is no such fit. */
export async function listReports({
  ctx,
  input: { name, limit, after },
}: {
  ctx: Ctx;
  input: PageInput & { name: FitName };
}): Promise<Page<StoredReport> & { counted: Counted }> {
  await getFit({ ctx, input: name });
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(and(of(ctx, name), after === undefined ? undefined : gt(table.id, after)))
    .orderBy(asc(table.id))
    .limit(limit + 1);
  const [counted] = await ctx.tx
    .select({
      fits: sql<number>`count(*) filter (where ${table.says} = 'fits')`.mapWith(Number),
      doesNotFit: sql<number>`count(*) filter (where ${table.says} = 'doesNotFit')`.mapWith(Number),
    })
    .from(table)
    .where(of(ctx, name));
  const page = pageOf(rows, limit, ({ id }) => id, reportOf);
  return { ...page, counted: counted ?? { fits: 0, doesNotFit: 0 } };
}

/** Errors: NotFound, Forbidden where a member would remove what another one found. */
export async function removeReport({
  ctx,
  input: { name, id },
}: {
  ctx: Ctx;
  input: { name: FitName; id: string };
}): Promise<void> {
  const one = and(of(ctx, name), eq(table.id, id));
  const [row] = await ctx.tx.select().from(table).where(one).for('update');
  if (!row) throw new NotFound(`report ${id} of the fit ${words(name)}`);
  if (onlyProposes(ctx) && row.actor !== ctx.actor)
    throw new Forbidden(
      'Somebody else reported this. A member removes only their own reports. Ask an editor of your club.',
    );
  await ctx.tx.delete(table).where(one);
  const { id: _id, by: _by, at: _at, ...before } = reportOf(row);
  await record(ctx, 'fit-report.remove', `${words(name)}/${id}`, { before });
}
