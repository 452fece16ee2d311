import { and, eq } from 'drizzle-orm';
import type { EntryTable, Kind } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { pageOf, type ListInput, type Page } from './page.ts';
import { inOrder, newestChange, type Sorts } from './sorting.ts';
import type { parts } from './schema/index.ts';

type Row = typeof parts.$inferSelect;

/** What lists of these entries are sorted by. */
export function sortsOf<T extends EntryTable>(kind: Kind<T>): Sorts {
  return { code: undefined, updated: newestChange(kind.table.updatedAt), ...kind.sorts };
}

/** A page of entries, in order. What has become another is left out. */
export async function listEntries<T extends EntryTable>(
  ctx: Ctx,
  kind: Kind<T>,
  input: ListInput,
): Promise<Page<Row>> {
  // Drizzle cannot see that the tables agree in these columns.
  const table = kind.table as unknown as typeof parts;
  const { beyond, order, told, placeOf } = inOrder(sortsOf(kind), [table.code], input);
  const asked = Object.entries(input.filters ?? {}).flatMap(([name, value]) =>
    value === undefined ? [] : [kind.filters?.[name]?.(ctx, value)],
  );
  const rows = await ctx.tx
    .select({ entry: table, told })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), kind.moved?.live, beyond, ...asked))
    .orderBy(...order)
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => placeOf(row.entry.code, row.told),
    (row) => row.entry,
  );
}
