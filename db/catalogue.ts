import { and, asc, eq, gt } from 'drizzle-orm';
import { record, type Ctx } from './club.ts';
import { Conflict, constraintOf, FOREIGN_KEY_VIOLATION, NotFound, sqlState, Stale } from './errors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import type { offers, parts, suppliers } from './schema/index.ts';
import { isVersion, versionOf, type Version } from './version.ts';

type EntryTable = typeof parts | typeof suppliers | typeof offers;
type Body<T extends EntryTable> = T['$inferSelect']['body'];

/** A catalogue entry with the version that its ETag is made of. */
export interface Entry<B> {
  body: B;
  version: Version;
  createdAt: Date;
  updatedAt: Date;
}

export interface Catalogue<B> {
  create(args: { ctx: Ctx; input: B }): Promise<Entry<B>>;
  get(args: { ctx: Ctx; input: { code: string } }): Promise<Entry<B>>;
  list(args: { ctx: Ctx; input: PageInput }): Promise<Page<Entry<B>>>;
  replace(args: { ctx: Ctx; input: { body: B; version: Version } }): Promise<Entry<B>>;
  remove(args: { ctx: Ctx; input: { code: string; version: Version } }): Promise<void>;
  all(args: { ctx: Ctx }): Promise<B[]>;
}

interface Kind<T extends EntryTable> {
  table: T;
  word: string;
  /** Columns beside the body that are read out of it. */
  columns: (body: Body<T>) => Partial<T['$inferInsert']>;
  /** Refuses a body that names what is not there; throws Invalid. */
  check?: (ctx: Ctx, body: Body<T>) => Promise<void>;
  /** Refuses a change of what is stored; throws Conflict. */
  mayReplace?: (ctx: Ctx, before: Body<T>, after: Body<T>) => Promise<void>;
  /** Keeps what hangs on the entry, after it was written. */
  after?: (ctx: Ctx, body: Body<T>) => Promise<void>;
  /** The sentence for a removal that something else forbids, by the constraint's name. */
  inUse: Record<string, string>;
}

/**
 * The verbs that parts, suppliers and offers share. Errors: Conflict for a code in use or an entry that others need,
 * NotFound, Stale where the version is not the stored one, Invalid where the body names what is not there.
 */
export function catalogue<T extends EntryTable>(kind: Kind<T>): Catalogue<Body<T>> {
  // Drizzle cannot see that the three tables agree in these columns; this file sees to it that they do.
  const table = kind.table as typeof parts;
  type Row = typeof parts.$inferSelect;
  type B = Body<T>;
  const entryOf = (row: Row): Entry<B> => ({
    body: row.body,
    version: versionOf(row),
    createdAt: row.createdAt,
    updatedAt: row.updatedAt,
  });
  const one = (ctx: Ctx, code: string) => and(eq(table.clubId, ctx.club), eq(table.code, code));
  const asRead = (ctx: Ctx, code: string, { number, born }: Version) =>
    and(one(ctx, code), eq(table.version, number), eq(table.createdAt, new Date(born)));
  const columns = (body: B) => ({ ...kind.columns(body), body }) as Pick<typeof parts.$inferInsert, 'body'>;

  async function create({ ctx, input }: { ctx: Ctx; input: B }): Promise<Entry<B>> {
    await kind.check?.(ctx, input);
    const now = ctx.now();
    const rows = await ctx.tx
      .insert(table)
      .values({
        clubId: ctx.club,
        code: input.code,
        version: 1,
        createdAt: now,
        updatedAt: now,
        ...columns(input),
      })
      .onConflictDoNothing()
      .returning();
    const row = rows[0];
    if (!row)
      throw new Conflict(
        'duplicate-code',
        `There is a ${kind.word} ${input.code} already. Give this one another code, or change that one.`,
      );
    await kind.after?.(ctx, input);
    await record(ctx, `${kind.word}.create`, input.code);
    return entryOf(row);
  }

  /** Errors: NotFound, Stale. */
  async function requireRow(ctx: Ctx, code: string, read: Version): Promise<Row> {
    const rows = await ctx.tx.select().from(table).where(one(ctx, code));
    if (!rows[0]) throw new NotFound(`${kind.word} ${code}`);
    if (!isVersion(rows[0], read)) throw new Stale();
    return rows[0];
  }

  async function get({ ctx, input }: { ctx: Ctx; input: { code: string } }): Promise<Entry<B>> {
    const rows = await ctx.tx.select().from(table).where(one(ctx, input.code));
    if (!rows[0]) throw new NotFound(`${kind.word} ${input.code}`);
    return entryOf(rows[0]);
  }

  async function list({ ctx, input }: { ctx: Ctx; input: PageInput }): Promise<Page<Entry<B>>> {
    const rows = await ctx.tx
      .select()
      .from(table)
      .where(
        and(eq(table.clubId, ctx.club), input.after === undefined ? undefined : gt(table.code, input.after)),
      )
      .orderBy(asc(table.code))
      .limit(input.limit + 1);
    return pageOf(rows, input.limit, (row) => row.code, entryOf);
  }

  async function replace({
    ctx,
    input,
  }: {
    ctx: Ctx;
    input: { body: B; version: Version };
  }): Promise<Entry<B>> {
    const { body, version } = input;
    const before = await requireRow(ctx, body.code, version);
    await kind.mayReplace?.(ctx, before.body, body);
    await kind.check?.(ctx, body);
    const rows = await ctx.tx
      .update(table)
      .set({ ...columns(body), version: version.number + 1, updatedAt: ctx.now() })
      .where(asRead(ctx, body.code, version))
      .returning();
    if (!rows[0]) throw new Stale();
    await kind.after?.(ctx, body);
    await record(ctx, `${kind.word}.replace`, body.code);
    return entryOf(rows[0]);
  }

  async function remove({
    ctx,
    input,
  }: {
    ctx: Ctx;
    input: { code: string; version: Version };
  }): Promise<void> {
    await requireRow(ctx, input.code, input.version);
    try {
      // A savepoint: the refusal of a foreign key must not spoil the transaction around it.
      await ctx.tx.transaction(async (tx) => {
        const gone = await tx
          .delete(table)
          .where(asRead(ctx, input.code, input.version))
          .returning({ code: table.code });
        if (gone.length === 0) throw new Stale();
      });
    } catch (error) {
      if (sqlState(error) !== FOREIGN_KEY_VIOLATION) throw error;
      throw new Conflict(
        'in-use',
        kind.inUse[constraintOf(error) ?? ''] ??
          `The ${kind.word} ${input.code} is needed elsewhere and stays.`,
      );
    }
    await record(ctx, `${kind.word}.remove`, input.code);
  }

  async function all({ ctx }: { ctx: Ctx }): Promise<B[]> {
    const rows = await ctx.tx
      .select({ body: table.body })
      .from(table)
      .where(eq(table.clubId, ctx.club))
      .orderBy(asc(table.code));
    return rows.map((row) => row.body as B);
  }

  return { create, get, list, replace, remove, all };
}
