import { getTableColumns, sql, type SQL } from 'drizzle-orm';
import type { PgColumn, PgTable } from 'drizzle-orm/pg-core';
import type { Ctx } from './club.ts';

/**
 * Inserts any number of rows by one parameter, as JSON: many times quicker than one parameter a value. All rows state the
 * fields that the first one states; those left out get their defaults. `otherwise` stands at the end: an ON CONFLICT clause.
 */
export async function insertMany<T extends PgTable>(
  ctx: Ctx,
  table: T,
  rows: readonly T['$inferInsert'][],
  otherwise: SQL = sql``,
): Promise<void> {
  const [first] = rows;
  if (!first) return;
  const columns = getTableColumns(table) as Record<string, { name: string }>;
  const named = Object.keys(first).map((field) => ({ field, name: columns[field]?.name ?? field }));
  const records = rows.map((row) =>
    Object.fromEntries(named.map(({ field, name }) => [name, (row as Record<string, unknown>)[field]])),
  );
  const list = sql.join(
    named.map(({ name }) => sql.identifier(name)),
    sql`, `,
  );
  await ctx.tx.execute(
    sql`insert into ${table} (${list}) select ${list} from jsonb_populate_recordset(null::${table}, ${JSON.stringify(records)}::text::jsonb) ${otherwise}`,
  );
}

/** The clause by which a row that is there gets what was given in these columns, and its next version. */
export function replacing(key: readonly PgColumn[], columns: readonly PgColumn[], version: PgColumn): SQL {
  const name = (column: PgColumn) => sql.identifier(column.name);
  const set = columns.map((column) => sql`${name(column)} = excluded.${name(column)}`);
  return sql`on conflict (${sql.join(key.map(name), sql`, `)}) do update set ${sql.join(
    [...set, sql`${name(version)} = ${version} + 1`],
    sql`, `,
  )}`;
}
