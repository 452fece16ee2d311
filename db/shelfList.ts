import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import type { Part } from '../worker/engine/model/part.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { ownerAsked } from './ownerAsked.ts';
import { parts, stock as table } from './schema/index.ts';

/** A stock item with its part. */
export interface OnShelf {
  item: StockItem;
  part: Part;
}

/** More than this are no sheet that anybody prints. */
const MOST = 10_000;

export interface ShelfInput {
  place?: string | undefined;
  part?: string | undefined;
  /** The id of a member, or `me`. */
  owner?: string | undefined;
  /** These items only, also where their count is 0. */
  codes?: readonly string[] | undefined;
  /** Drawers of pieces are listed where they are empty too. */
  drawers?: boolean | undefined;
}

/**
 * What lies on the shelf, by code. Errors: Invalid for an owner who is no member, for an item that is not there, and where
 * there are too many for a sheet.
 */
export async function listShelf({ ctx, input }: { ctx: Ctx; input: ShelfInput }): Promise<OnShelf[]> {
  const { place, part, codes, drawers = false } = input;
  const owner = input.owner === undefined ? undefined : await ownerAsked(ctx, input.owner);
  const isThere = or(
    sql`(${table.body} ->> 'count')::bigint > 0`,
    drawers ? sql`${table.body} ->> 'form' = 'pieces'` : undefined,
  );
  const rows = await ctx.tx
    .select({ item: table.body, part: parts.body })
    .from(table)
    .innerJoin(parts, and(eq(parts.clubId, table.clubId), eq(parts.code, table.partCode)))
    .where(
      and(
        eq(table.clubId, ctx.club),
        codes === undefined ? isThere : inArray(table.code, [...codes]),
        place === undefined ? undefined : sql`${table.body} ->> 'place' = ${place}`,
        part === undefined ? undefined : eq(table.partCode, part),
        owner === undefined ? undefined : eq(table.ownerId, owner),
      ),
    )
    .orderBy(asc(table.code))
    .limit(MOST + 1);
  if (rows.length > MOST) throw tooMany();
  requireThere(rows, codes);
  return rows;
}

/** Error: Invalid with a finding for each item that is not there. */
function requireThere(rows: readonly OnShelf[], codes: readonly string[] = []): void {
  const there = new Set(rows.map(({ item }) => item.code));
  const findings = codes.flatMap((code, at) =>
    there.has(code)
      ? []
      : [
          {
            code: 'unknown-stock-item',
            severity: 'stop' as const,
            at: `/stock/${at}`,
            where: `query, stock, number ${at + 1}`,
            found: JSON.stringify(code),
            todo: 'There is no such stock item with what else the query asks for. Correct the code, or leave it out. GET /v1/stock has the codes of all.',
          },
        ],
  );
  if (findings.length > 0) throw new Invalid(findings);
}

const tooMany = () =>
  new Invalid([
    {
      code: 'too-many-items',
      severity: 'stop',
      at: '/place',
      where: 'query',
      found: `more than ${MOST} stock items`,
      limit: `at most ${MOST}`,
      todo: 'Ask for one place or one part at a time. GET /v1/stock?format=csv has all of them as a table.',
    },
  ]);
