import { and, eq, inArray, sql, type SQL } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { partNumbers } from './schema/index.ts';

/** Parts that have one number of one maker: most likely they are one part. */
export interface SameNumber {
  whose: string;
  number: string;
  parts: string[];
}

/** What a page of them is paged by: the number, then whose, both folded. */
const nameOf = ({ folded, whoseFolded }: { folded: string; whoseFolded: string }) =>
  `${folded}:${whoseFolded}`;

/** Numbers that more than one part has, by number. */
export async function listSameNumbers({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: PageInput;
}): Promise<Page<SameNumber>> {
  const [folded = '', whose = ''] = input.after?.split(':') ?? [];
  const beyond =
    input.after === undefined
      ? undefined
      : sql`(${partNumbers.folded}, ${partNumbers.whoseFolded}) > (${folded}, ${whose})`;
  const rows = await shared(ctx, beyond, input.limit + 1);
  return pageOf(rows, input.limit, nameOf, ({ whose: told, number, parts }) => ({
    whose: told,
    number,
    parts,
  }));
}

/** Those of these parts, with all that have the same number. */
export async function sameNumbersOf({ ctx, input }: { ctx: Ctx; input: string[] }): Promise<SameNumber[]> {
  if (input.length === 0) return [];
  const own = await ctx.tx
    .selectDistinct({ folded: partNumbers.folded })
    .from(partNumbers)
    .where(and(eq(partNumbers.clubId, ctx.club), inArray(partNumbers.partCode, input)));
  if (own.length === 0) return [];
  const among = inArray(
    partNumbers.folded,
    own.map(({ folded }) => folded),
  );
  const rows = await shared(ctx, among, own.length);
  return rows
    .filter(({ parts }) => parts.some((part) => input.includes(part)))
    .map(({ whose, number, parts }) => ({ whose, number, parts }));
}

function shared(ctx: Ctx, where: SQL | undefined, limit: number) {
  const { clubId, folded, whoseFolded, whose, number, partCode } = partNumbers;
  return (
    ctx.tx
      .select({
        folded,
        whoseFolded,
        whose: sql<string>`min(${whose})`,
        number: sql<string>`min(${number})`,
        parts: sql<string[]>`json_agg(${partCode} order by ${partCode})`,
      })
      .from(partNumbers)
      // A number of nobody's says little.
      .where(and(eq(clubId, ctx.club), sql`${whoseFolded} <> ''`, where))
      .groupBy(folded, whoseFolded)
      .having(sql`count(*) > 1`)
      .orderBy(folded, whoseFolded)
      .limit(limit)
  );
}
