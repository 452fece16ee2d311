import { and, asc, eq, inArray, sql, type SQL } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';
import type { Finding } from '../worker/engine/model/finding.ts';
import type { Bulk, Change } from './bulk.ts';
import { bulkOf, holders } from './bulkOf.ts';
import { authorsOf, record, type Ctx } from './club.ts';
import type { Tx } from './connect.ts';
import {
  Conflict,
  constraintOf,
  FOREIGN_KEY_VIOLATION,
  Invalid,
  Moved,
  NotFound,
  sqlState,
  Stale,
} from './errors.ts';
import { listEntries, sortsOf } from './entryList.ts';
import type { ListInput, Page } from './page.ts';
import type { lanes, offers, parts, rates, stock, suppliers } from './schema/index.ts';
import type { Sorts } from './sorting.ts';
import { requireOwnProposal, standingOf } from './standing.ts';
import { isVersion, versionIn, versionOf, type Changeable, type Version } from './version.ts';

export type EntryTable =
  typeof parts | typeof suppliers | typeof offers | typeof rates | typeof lanes | typeof stock;
export type Body<T extends EntryTable> = T['$inferSelect']['body'];

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
  list(args: { ctx: Ctx; input: ListInput }): Promise<Page<Entry<B>>>;
  /** By what a list can be sorted. */
  sorts: readonly string[];
  replace(args: { ctx: Ctx; input: { body: B; version: Changeable } }): Promise<Entry<B>>;
  remove(args: { ctx: Ctx; input: { code: string; version: Changeable } }): Promise<void>;
  all(args: { ctx: Ctx }): Promise<B[]>;
  /** Those of these codes that are there, by code. */
  some(args: { ctx: Ctx; input: readonly string[] }): Promise<Map<string, B>>;
  /** Keeps what hangs on entries that were written by other ways. */
  hang: (args: { ctx: Ctx; input: readonly Change<B>[] }) => Promise<void>;
  /** The same for many at a time. */
  bulk: Bulk<B>;
}

/** What is the same in two entries that cannot both be. */
export interface Clash<B> {
  /** The field that is told. */
  field: string;
  /** The constraint that forbids it. */
  constraint: string;
  /** Equal texts clash. */
  of: (body: B) => string;
  /** Entries that clash are alike in this column too. */
  column: PgColumn;
  inColumn: (body: B) => string;
  sentence: (body: B, other: string | undefined) => string;
}

export type After<B> = (ctx: Ctx, changes: readonly Change<B>[]) => Promise<void>;

export interface Kind<T extends EntryTable> {
  table: T;
  word: string;
  /** Columns beside the body that are read out of it. */
  columns: (body: Body<T>) => Partial<T['$inferInsert']>;
  /** Columns that the body alone does not tell; the same ones of all bodies. */
  lookedUp?: (ctx: Ctx, bodies: readonly Body<T>[]) => Promise<(body: Body<T>) => Partial<T['$inferInsert']>>;
  /** Error: Forbidden where the caller may not change what is stored; for kinds that members have of their own. */
  requireTheirs?: (ctx: Ctx, row: object) => void;
  /** Waits for others who change what these entries are about; before any row is held. */
  alone?: (ctx: Ctx) => Promise<void>;
  /** What is wrong with bodies beside what is in them, by code: names of what is not there. */
  faults?: (ctx: Ctx, bodies: readonly Body<T>[]) => Promise<Map<string, Finding[]>>;
  /** Why what is stored cannot become what is given, by code, at the field that stays. */
  stays?: {
    field: string;
    why: (ctx: Ctx, changes: readonly Required<Change<Body<T>>>[]) => Promise<Map<string, string>>;
  };
  /** Keep what hangs on the entries, after they were written, in this order. */
  after?: readonly After<Body<T>>[];
  /** Take away what hangs on entries, before they are removed. */
  removed?: readonly ((ctx: Ctx, codes: readonly string[]) => Promise<void>)[];
  /** The sentence for a removal that something else forbids, by the constraint's name. */
  inUse?: Record<string, string>;
  /** What a list can be asked for, by name. */
  filters?: Record<string, (ctx: Ctx, value: string) => SQL>;
  /** What a list can be sorted by beside code and change. */
  sorts?: Sorts;
  /** Members propose entries, which an editor confirms: the table has a standing. */
  proposed?: true;
  /** Bodies with the codes that are meant, where they name what has another code now. */
  asMeant?: (ctx: Ctx, bodies: readonly Body<T>[]) => Promise<Body<T>[]>;
  /** Entries that have become others: where they are left out of what is listed, and the code of the other. */
  moved?: { live: SQL; to: (row: object) => string | null };
  clash?: Clash<Body<T>>;
  /** The sentence for a body that the club's terms forbid, by the constraint's name. */
  forbidden?: Record<string, (body: Body<T>) => string>;
}

/**
 * The verbs that all entries with a code share. Errors: Conflict for a code in use, an entry that others need or a body that
 * clashes with another entry, NotFound, Stale where the version is not the stored one, Invalid where the body names what is
 * not there, Moved where it has become another, Forbidden where a member may not change it.
 */
export function catalogue<T extends EntryTable>(kind: Kind<T>): Catalogue<Body<T>> {
  // Drizzle cannot see that the tables agree in these columns; this file sees to it that they do.
  const table = kind.table as unknown as typeof parts;
  type Row = typeof parts.$inferSelect;
  type B = Body<T>;
  const entryOf = (row: Row): Entry<B> => ({
    body: row.body,
    version: versionOf(row),
    createdAt: row.createdAt,
    updatedAt: row.updatedAt,
  });
  const one = (ctx: Ctx, code: string) => and(eq(table.clubId, ctx.club), eq(table.code, code));
  const asRead = (ctx: Ctx, code: string, read: Changeable) => and(one(ctx, code), versionIn(table, read));
  const action = kind.word.replace(' ', '-');
  const columns = async (ctx: Ctx, body: B) =>
    ({
      ...kind.columns(body),
      ...(await kind.lookedUp?.(ctx, [body]))?.(body),
      body,
    }) as Pick<typeof parts.$inferInsert, 'body'>;

  const meant = async (ctx: Ctx, body: B): Promise<B> => (await kind.asMeant?.(ctx, [body]))?.[0] ?? body;

  /** Error: Forbidden. */
  function requireTheirs(ctx: Ctx, row: Row): void {
    kind.requireTheirs?.(ctx, row);
    if (kind.proposed) requireOwnProposal(ctx, `${kind.word} ${row.code}`, row);
  }

  /** Error: Moved. */
  function requireThere(row: Row): void {
    const to = kind.moved?.to(row);
    if (typeof to === 'string') throw new Moved(kind.word, row.code, to);
  }

  async function create({ ctx, input: given }: { ctx: Ctx; input: B }): Promise<Entry<B>> {
    await kind.alone?.(ctx);
    const input = await meant(ctx, given);
    await refuseFaults(ctx, input);
    const now = ctx.now();
    const values = {
      clubId: ctx.club,
      code: input.code,
      version: 1,
      createdAt: now,
      updatedAt: now,
      ...authorsOf(ctx),
      ...(kind.proposed ? { standing: standingOf(ctx) } : {}),
      ...(await columns(ctx, input)),
    };
    const [row] = await written(ctx, input, (tx) =>
      tx
        .insert(table)
        .values(values)
        .onConflictDoNothing({ target: [table.clubId, table.code] })
        .returning(),
    );
    if (!row)
      throw new Conflict(
        'duplicate-code',
        `The ${kind.word} ${input.code} already exists. Use another code, or change the existing one.`,
      );
    await hang({ ctx, input: [{ body: input, before: undefined }] });
    await record(ctx, `${action}.create`, input.code, { after: input });
    return entryOf(row);
  }

  /** Error: Invalid. */
  async function refuseFaults(ctx: Ctx, body: B): Promise<void> {
    const findings = (await kind.faults?.(ctx, [body]))?.get(body.code) ?? [];
    if (findings.length > 0) throw new Invalid(findings);
  }

  /** Errors: Conflict where the body clashes with another entry. */
  async function written(ctx: Ctx, body: B, write: (tx: Tx) => PromiseLike<Row[]>): Promise<Row[]> {
    const { clash, forbidden = {} } = kind;
    if (!clash && Object.keys(forbidden).length === 0) return write(ctx.tx);
    try {
      // A savepoint: after the refusal of a constraint the other entry is looked up.
      return await ctx.tx.transaction(async (tx) => write(tx));
    } catch (error) {
      const constraint = constraintOf(error) ?? '';
      const sentence =
        clash?.constraint === constraint
          ? clash.sentence(body, (await holders(ctx, kind, [body])).get(clash.of(body)))
          : forbidden[constraint]?.(body);
      if (sentence === undefined) throw error;
      throw new Conflict('clash', sentence);
    }
  }

  /** Errors: NotFound, Stale. */
  async function requireRow(ctx: Ctx, code: string, read: Changeable): Promise<Row> {
    await kind.alone?.(ctx);
    // Held: what follows is worked out from this very state, also where any state may be changed.
    const rows = await ctx.tx.select().from(table).where(one(ctx, code)).for('no key update');
    if (!rows[0]) throw new NotFound(`${kind.word} ${code}`);
    requireThere(rows[0]);
    requireTheirs(ctx, rows[0]);
    if (!isVersion(rows[0], read)) throw new Stale();
    return rows[0];
  }

  async function get({ ctx, input }: { ctx: Ctx; input: { code: string } }): Promise<Entry<B>> {
    const rows = await ctx.tx.select().from(table).where(one(ctx, input.code));
    if (!rows[0]) throw new NotFound(`${kind.word} ${input.code}`);
    requireThere(rows[0]);
    return entryOf(rows[0]);
  }

  async function list({ ctx, input }: { ctx: Ctx; input: ListInput }): Promise<Page<Entry<B>>> {
    const { items, next } = await listEntries(ctx, kind, input);
    return { items: items.map(entryOf), next };
  }

  async function replace({
    ctx,
    input,
  }: {
    ctx: Ctx;
    input: { body: B; version: Changeable };
  }): Promise<Entry<B>> {
    const { version } = input;
    const body = await meant(ctx, input.body);
    const before = await requireRow(ctx, body.code, version);
    const why = (await kind.stays?.why(ctx, [{ before: before.body, body }]))?.get(body.code);
    if (why !== undefined) throw new Conflict(`${kind.stays?.field ?? ''}-in-use`, why);
    await refuseFaults(ctx, body);
    const values = await columns(ctx, body);
    const [row] = await written(ctx, body, (tx) =>
      tx
        .update(table)
        .set({
          ...values,
          version: sql`${table.version} + 1`,
          updatedAt: ctx.now(),
          updatedBy: ctx.actor,
        })
        .where(asRead(ctx, body.code, version))
        .returning(),
    );
    if (!row) throw new Stale();
    await hang({ ctx, input: [{ body, before: before.body }] });
    await record(ctx, `${action}.replace`, body.code, { before: before.body, after: body });
    return entryOf(row);
  }

  async function remove({
    ctx,
    input,
  }: {
    ctx: Ctx;
    input: { code: string; version: Changeable };
  }): Promise<void> {
    const before = await requireRow(ctx, input.code, input.version);
    try {
      // A savepoint: the refusal of a foreign key must not spoil the transaction around it.
      await ctx.tx.transaction(async (tx) => {
        for (const removed of kind.removed ?? []) await removed({ ...ctx, tx }, [input.code]);
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
        kind.inUse?.[constraintOf(error) ?? ''] ??
          `The ${kind.word} ${input.code} is used elsewhere and cannot be removed.`,
      );
    }
    await record(ctx, `${action}.remove`, input.code, { before: before.body });
  }

  async function all({ ctx }: { ctx: Ctx }): Promise<B[]> {
    const rows = await ctx.tx
      .select({ body: table.body })
      .from(table)
      .where(and(eq(table.clubId, ctx.club), kind.moved?.live))
      .orderBy(asc(table.code));
    return rows.map((row) => row.body as B);
  }

  async function some({ ctx, input }: { ctx: Ctx; input: readonly string[] }): Promise<Map<string, B>> {
    if (input.length === 0) return new Map();
    const rows = await ctx.tx
      .select({ code: table.code, body: table.body })
      .from(table)
      .where(and(eq(table.clubId, ctx.club), inArray(table.code, [...input])));
    return new Map(rows.map(({ code, body }) => [code, body as B]));
  }

  async function hang({ ctx, input }: { ctx: Ctx; input: readonly Change<B>[] }): Promise<void> {
    for (const after of kind.after ?? []) await after(ctx, input);
  }

  const sorts = Object.keys(sortsOf(kind));
  return { create, get, list, sorts, replace, remove, all, some, hang, bulk: bulkOf(kind) };
}
