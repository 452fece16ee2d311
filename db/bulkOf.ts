import { and, eq, getTableColumns, inArray } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { together, type Bulk, type Change } from './bulk.ts';
import type { Body, EntryTable, Kind } from './catalogue.ts';
import { authorsOf, recordAll, type Ctx } from './club.ts';
import { insertMany, replacing } from './insertMany.ts';
import { listEntries } from './entryList.ts';
import { standingOf } from './standing.ts';
import type { parts } from './schema/index.ts';

/** The verbs for many entries of one kind at a time. */
export function bulkOf<T extends EntryTable>(kind: Kind<T>): Bulk<Body<T>> {
  // Drizzle cannot see that the tables agree in these columns.
  const table = kind.table as unknown as typeof parts;
  type B = Body<T>;
  const action = kind.word.replace(' ', '-');
  const mine = (ctx: Ctx) => eq(table.clubId, ctx.club);

  const asMeant = async ({ ctx, input }: { ctx: Ctx; input: readonly B[] }): Promise<readonly B[]> =>
    (await kind.asMeant?.(ctx, input)) ?? input;

  async function meant(ctx: Ctx, input: readonly Change<B>[]): Promise<readonly Change<B>[]> {
    const bodies = await asMeant({ ctx, input: input.map(({ body }) => body) });
    return input.map(({ body, before }, index) => ({ body: bodies[index] ?? body, before }));
  }

  const stored: Bulk<B>['stored'] = async ({ ctx, input: { keys } }) => {
    if (keys.length === 0) return new Map();
    await kind.alone?.(ctx);
    const rows = await ctx.tx
      .select({ code: table.code, body: table.body })
      .from(table)
      .where(and(mine(ctx), inArray(table.code, [...keys])))
      .for('update');
    return new Map(rows.map(({ code, body }) => [code, body as B]));
  };

  const faults: Bulk<B>['faults'] = async ({ ctx, input: given }) => {
    const input = await meant(ctx, given);
    const bodies = input.map(({ body }) => body);
    if (bodies.length === 0) return new Map();
    return together([
      (await kind.faults?.(ctx, bodies)) ?? new Map<string, Finding[]>(),
      await staying(ctx, input),
      await clashing(ctx, bodies),
    ]);
  };

  async function staying(ctx: Ctx, input: readonly Change<B>[]): Promise<Map<string, Finding[]>> {
    const { stays } = kind;
    if (!stays) return new Map();
    const replaced = input.flatMap(({ body, before }) => (before === undefined ? [] : [{ body, before }]));
    const why = await stays.why(ctx, replaced);
    return new Map(
      replaced.flatMap(({ body, before }) => {
        const sentence = why.get(body.code);
        return sentence === undefined
          ? []
          : [[body.code, [finding(`${stays.field}-in-use`, stays.field, body, sentence, before)]]];
      }),
    );
  }

  /** The first of those that clash is kept. */
  async function clashing(ctx: Ctx, bodies: readonly B[]): Promise<Map<string, Finding[]>> {
    const { clash } = kind;
    if (!clash) return new Map();
    const held = await holders(ctx, kind, bodies);
    return new Map(
      bodies.flatMap((body) => {
        const holder = held.get(clash.of(body));
        if (holder === undefined) held.set(clash.of(body), body.code);
        return holder === undefined || holder === body.code
          ? []
          : [[body.code, [finding('clash', clash.field, body, clash.sentence(body, holder))]]];
      }),
    );
  }

  const write: Bulk<B>['write'] = async ({ ctx, input: given }) => {
    if (given.length === 0) return;
    const input = await meant(ctx, given);
    const now = ctx.now();
    const lookedUp = await kind.lookedUp?.(
      ctx,
      input.map(({ body }) => body),
    );
    const columns = (body: B) => ({ ...kind.columns(body), ...lookedUp?.(body) });
    const valuesOf = ({ body }: Change<B>) =>
      ({
        clubId: ctx.club,
        code: body.code,
        version: 1,
        createdAt: now,
        updatedAt: now,
        ...authorsOf(ctx),
        ...(kind.proposed ? { standing: standingOf(ctx) } : {}),
        ...columns(body),
        body,
      }) as typeof parts.$inferInsert;
    const fresh = input.filter(({ before }) => before === undefined);
    const changed = input.filter(({ before }) => before !== undefined);
    // No ON CONFLICT: what somebody else has added since it was looked up is not overwritten.
    await insertMany(ctx, table, fresh.map(valuesOf));
    const [first] = changed;
    if (first)
      await insertMany(
        ctx,
        table,
        changed.map(valuesOf),
        replacing(
          [table.clubId, table.code],
          [table.body, table.updatedAt, table.updatedBy, ...columnsOf(columns(first.body))],
          table.version,
        ),
      );
    for (const after of kind.after ?? []) await after(ctx, input);
    await recordAll(
      ctx,
      input.map(({ body, before }) => ({
        action: `${action}.${before === undefined ? 'create' : 'replace'}`,
        subject: body.code,
        before,
        after: body,
      })),
    );
  };

  function columnsOf(values: object): PgColumn[] {
    const columns = getTableColumns(kind.table) as Record<string, PgColumn>;
    return Object.keys(values).flatMap((field) => columns[field] ?? []);
  }

  const page: Bulk<B>['page'] = async ({ ctx, input }) => {
    const { items, next } = await listEntries(ctx, kind, input);
    return { items: items.map(({ body }) => body as B), next };
  };

  return { keyOf: (body) => body.code, stored, asMeant, faults, write, page };
}

/** Of the stored entries that clash with any of these, or are these: what they clash by, with the entry's code. */
export async function holders<T extends EntryTable>(
  ctx: Ctx,
  { table: given, clash }: Kind<T>,
  bodies: readonly Body<T>[],
): Promise<Map<string, string>> {
  if (!clash || bodies.length === 0) return new Map();
  const table = given as unknown as typeof parts;
  const rows = await ctx.tx
    .select({ body: table.body })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(clash.column, bodies.map(clash.inColumn))));
  return new Map(rows.map(({ body }) => [clash.of(body as Body<T>), body.code]));
}

function finding(code: string, field: string, body: object, todo: string, before?: object): Finding {
  const limit: unknown = before && (before as Record<string, unknown>)[field];
  return {
    code,
    severity: 'stop',
    at: pointer([field]),
    where: field,
    found: JSON.stringify((body as Record<string, unknown>)[field]),
    ...(typeof limit === 'string' ? { limit } : {}),
    todo,
  };
}
