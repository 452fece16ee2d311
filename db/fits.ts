import { and, asc, eq, or, sql } from 'drizzle-orm';
import { together, type Bulk } from './bulk.ts';
import type { Fit, FitRelation } from '../worker/engine/model/fit.ts';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { renamedInFit, type Heirs } from '../worker/engine/model/renamedParts.ts';
import type { Entry } from './catalogue.ts';
import { authorsOf, record, recordAll, type Ctx } from './club.ts';
import { Conflict, Forbidden, NotFound, Stale } from './errors.ts';
import { heirsOf } from './heirs.ts';
import { insertMany, replacing } from './insertMany.ts';
import { pageOf, type ListInput, type Page } from './page.ts';
import { requireKnown, unknownByEntry, type Named } from './references.ts';
import { fits as table } from './schema/index.ts';
import { inOrder, newestChange, type Sorts } from './sorting.ts';
import { onlyProposes, requireOwnProposal } from './standing.ts';
import { isVersion, versionIn, versionOf, type Changeable } from './version.ts';

/** What names a fit: its two parts and the relation between them. */
export type FitName = Pick<Fit, 'from' | 'relation' | 'to'>;

type Row = typeof table.$inferSelect;

const words = ({ from, relation, to }: FitName) => `${from}/${relation}/${to}`;
const one = (ctx: Ctx, { from, relation, to }: FitName) =>
  and(
    eq(table.clubId, ctx.club),
    eq(table.fromPart, from),
    eq(table.relation, relation),
    eq(table.toPart, to),
  );
const asRead = (ctx: Ctx, name: FitName, read: Changeable) => and(one(ctx, name), versionIn(table, read));
const named = (fit: Fit): Named[] =>
  (['from', 'to'] as const).map((side) => ({ code: fit[side], path: [side] }));
const entryOf = (row: Row): Entry<Fit> => ({
  body: row.body,
  version: versionOf(row),
  createdAt: row.createdAt,
  updatedAt: row.updatedAt,
});

/**
 * A new fit. Errors: Invalid for parts that are not there, Conflict where these two have this relation already or became one
 * part, Forbidden where a member does more than propose it.
 */
export async function createFit({ ctx, input: given }: { ctx: Ctx; input: Fit }): Promise<Entry<Fit>> {
  requireProposed(ctx, given);
  const input = renamedInFit(given, await heirsOf({ ctx }));
  requireTwo(given, input);
  await requireKnown(ctx, 'part', named(input));
  const now = ctx.now();
  const { from, relation, to } = input;
  const [row] = await ctx.tx
    .insert(table)
    .values({
      clubId: ctx.club,
      fromPart: from,
      relation,
      toPart: to,
      body: input,
      version: 1,
      createdAt: now,
      updatedAt: now,
      ...authorsOf(ctx),
    })
    .onConflictDoNothing()
    .returning();
  if (!row) throw new Conflict('duplicate-fit', `The fit ${words(input)} already exists. Change that one.`);
  await record(ctx, 'fit.create', words(input), { after: input });
  return entryOf(row);
}

/** Error: NotFound. */
export async function getFit({ ctx, input }: { ctx: Ctx; input: FitName }): Promise<Entry<Fit>> {
  const [row] = await ctx.tx.select().from(table).where(one(ctx, input));
  if (!row) throw new NotFound(`fit ${words(input)}`);
  return entryOf(row);
}

const SORTS: Sorts = { code: undefined, updated: newestChange(table.updatedAt) };
/** By what a list of fits can be sorted; code: by first part, relation and second part. */
export const FIT_SORTS = Object.keys(SORTS);

/** In order; where a part is named, only the fits that it is in, on either side. */
export async function listFits({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Omit<ListInput, 'filters'> & {
    filters?: { part?: string | undefined; relation?: string | undefined; status?: string | undefined };
  };
}): Promise<Page<Entry<Fit>>> {
  const { part, relation, status } = input.filters ?? {};
  const names = [table.fromPart, table.relation, table.toPart];
  const { beyond, order, told, placeOf } = inOrder(SORTS, names, input);
  const rows = await ctx.tx
    .select({ fit: table, told })
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        part === undefined ? undefined : or(eq(table.fromPart, part), eq(table.toPart, part)),
        relation === undefined ? undefined : sql`${table.relation} = ${relation}`,
        status === undefined ? undefined : sql`${table.body} ->> 'status' = ${status}`,
        beyond,
      ),
    )
    .orderBy(...order)
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => placeOf(words(row.fit.body), row.told),
    (row) => entryOf(row.fit),
  );
}

/** Errors: NotFound, Stale, Forbidden where it is not a member’s own proposal. */
export async function replaceFit({
  ctx,
  input: { body, version },
}: {
  ctx: Ctx;
  input: { body: Fit; version: Changeable };
}): Promise<Entry<Fit>> {
  const before = await requireRow(ctx, body, version);
  requireProposed(ctx, body);
  const [row] = await ctx.tx
    .update(table)
    .set({ body, version: sql`${table.version} + 1`, updatedAt: ctx.now(), updatedBy: ctx.actor })
    .where(asRead(ctx, body, version))
    .returning();
  if (!row) throw new Stale();
  await record(ctx, 'fit.replace', words(body), { before: before.body, after: body });
  return entryOf(row);
}

/** Errors: NotFound, Stale, Conflict for a refuted one, Forbidden where it is not a member’s own proposal. */
export async function removeFit({
  ctx,
  input: { name, version },
}: {
  ctx: Ctx;
  input: { name: FitName; version: Changeable };
}): Promise<void> {
  const before = await requireRow(ctx, name, version);
  if (before.body.status === 'refuted')
    throw new Conflict(
      'refuted-stays',
      'This fit was refuted, and that is kept so that nobody buys it again. If it was refuted by mistake, replace it with the status proposed first, then remove it.',
    );
  const gone = await ctx.tx
    .delete(table)
    .where(asRead(ctx, name, version))
    .returning({ relation: table.relation });
  if (gone.length === 0) throw new Stale();
  await record(ctx, 'fit.remove', words(name), { before: before.body });
}

export async function allFits({ ctx }: { ctx: Ctx }): Promise<Fit[]> {
  const rows = await ctx.tx
    .select({ body: table.body })
    .from(table)
    .where(eq(table.clubId, ctx.club))
    .orderBy(asc(table.fromPart), asc(table.relation), asc(table.toPart));
  return rows.map((row) => row.body);
}

async function requireRow(ctx: Ctx, name: FitName, read: Changeable): Promise<Row> {
  const [row] = await ctx.tx.select().from(table).where(one(ctx, name));
  if (!row) throw new NotFound(`fit ${words(name)}`);
  requireOwnProposal(ctx, `fit ${words(name)}`, {
    standing: row.body.status === 'proposed' ? 'proposed' : 'confirmed',
    createdBy: row.createdBy,
  });
  if (!isVersion(row, read)) throw new Stale();
  return row;
}

/** Error: Forbidden. */
function requireProposed(ctx: Ctx, { status }: Fit): void {
  if (onlyProposes(ctx) && status !== 'proposed')
    throw new Forbidden(
      'A member proposes a fit; an editor confirms or refutes it. Leave status out, or write proposed.',
    );
}

/** Error: Conflict. */
function requireTwo(given: Fit, { from, to }: Fit): void {
  if (from === to)
    throw new Conflict(
      'one-part',
      `${given.from} and ${given.to} were merged into one part, ${to}. A part needs no fit with itself.`,
    );
}

/** A list of fits names each by its parts, so that an old code would be another fit than the one that is meant. */
function mergedFinding({ code, path }: Named, heirs: Heirs): Finding[] {
  const heir = heirs.get(code);
  if (heir === undefined) return [];
  return [
    {
      code: 'merged-part',
      severity: 'stop',
      at: pointer(path),
      where: path.join(', '),
      found: JSON.stringify(code),
      limit: heir,
      todo: `The part ${code} was merged into ${heir}. Write ${heir}.`,
    },
  ];
}

/** Many fits at a time, by their words. */
export const bulkFits: Bulk<Fit> = {
  keyOf: words,
  stored: async ({ ctx, input: { keys } }) => {
    if (keys.length === 0) return new Map();
    const names = keys.map(fitNamed);
    const rows = await ctx.tx
      .select({ body: table.body })
      .from(table)
      .where(
        and(
          eq(table.clubId, ctx.club),
          sql`(${table.fromPart}, ${table.relation}, ${table.toPart}) in (${sql.join(
            names.map(({ from, relation, to }) => sql`(${from}, ${relation}, ${to})`),
            sql`, `,
          )})`,
        ),
      )
      .for('update');
    return new Map(rows.map(({ body }) => [words(body), body]));
  },
  faults: async ({ ctx, input }) => {
    const heirs = await heirsOf({ ctx });
    const merged = input.flatMap(({ body }) => {
      const old = named(body).flatMap((item) => mergedFinding(item, heirs));
      return old.length === 0 ? [] : [[words(body), old] as const];
    });
    const unknown = await unknownByEntry(
      ctx,
      input.map(({ body }) => ({ key: words(body), names: [{ word: 'part', named: named(body) }] })),
    );
    return together([unknown, new Map(merged)]);
  },
  write: async ({ ctx, input }) => {
    if (input.length === 0) return;
    const now = ctx.now();
    const valuesOf = ({ body }: { body: Fit }) => ({
      clubId: ctx.club,
      fromPart: body.from,
      relation: body.relation,
      toPart: body.to,
      body,
      version: 1,
      createdAt: now,
      updatedAt: now,
      ...authorsOf(ctx),
    });
    const fresh = input.filter(({ before }) => before === undefined);
    const changed = input.filter(({ before }) => before !== undefined);
    await insertMany(ctx, table, fresh.map(valuesOf));
    await insertMany(
      ctx,
      table,
      changed.map(valuesOf),
      replacing(
        [table.clubId, table.fromPart, table.relation, table.toPart],
        [table.body, table.updatedAt, table.updatedBy],
        table.version,
      ),
    );
    await recordAll(
      ctx,
      input.map(({ body, before }) => ({
        action: before === undefined ? 'fit.create' : 'fit.replace',
        subject: words(body),
        before,
        after: body,
      })),
    );
  },
  page: async ({ ctx, input }) => {
    const page = await listFits({ ctx, input: { ...input, filters: input.filters ?? {} } });
    return { items: page.items.map(({ body }) => body), next: page.next };
  },
};

/** A fit's name, from its words. */
function fitNamed(text: string): FitName {
  const [from = '', relation = '', to = ''] = text.split('/');
  return { from, relation: relation as FitRelation, to };
}
