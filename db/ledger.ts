import { and, asc, desc, eq, inArray, sql, type SQL } from 'drizzle-orm';
import type { MovementBody, MovementKind } from '../worker/engine/model/movement.ts';
import { codeAfter, headOf, type Moved } from '../worker/engine/model/shelfMove.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { authorsOf, recordAll, type Changed, type Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { stock, stockMovements as table } from './schema/index.ts';
import { negative, shareOfWorth, type Worth } from '../worker/engine/model/worth.ts';

/** The rows of the ledger, and the items that follow from them. */

/** So many more of an item: of what is like it and has a code of this root, or of a new item. */
export interface Arrival {
  root: string;
  /** As it is to lie there; its count is how many come. The code is made of the root. */
  item: StockItem;
  ownerId: string | null;
  kind: MovementKind;
  /** What the row says beside the part. */
  body: Partial<MovementBody>;
}

/** Puts something on the shelf; gives its item as it is then. */
export async function putOnShelf(
  ctx: Ctx,
  { root, item: given, ownerId, kind, body }: Arrival,
): Promise<StockItem> {
  const there = await ctx.tx
    .select()
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), madeOf(root)))
    .orderBy(asc(stock.code))
    .for('no key update');
  const alike = there.find(
    ({ body: other, ownerId: owner }) =>
      owner === ownerId &&
      other.form === given.form &&
      (other.form !== 'length' || given.form !== 'length' || other.lengthMm === given.lengthMm) &&
      other.part === given.part &&
      other.place === given.place &&
      other.note === given.note,
  );
  const code = alike?.code ?? codeAfter(root, new Set(there.map(({ code }) => code)));
  const item: StockItem = { ...given, code, count: (alike?.body.count ?? 0) + given.count };
  if (alike) await writeItem(ctx, item);
  else
    await ctx.tx.insert(stock).values({
      clubId: ctx.club,
      code,
      partCode: item.part,
      ownerId,
      version: 1,
      createdAt: ctx.now(),
      updatedAt: ctx.now(),
      ...authorsOf(ctx),
      body: item,
    });
  const moved: Moved = { kind, change: given.count, body: { ...headOf(item), ...body } };
  await append(ctx, [{ item, moved }], await lastOf(ctx, [code]));
  await recordAll(ctx, [
    alike ? replaced(alike.body, item) : { action: 'stock-item.create', subject: code, after: item },
  ]);
  return item;
}

/** The codes that codeAfter makes of one root: not those of longer lengths, so that two cuts never wait for each other. */
const madeOf = (root: string): SQL =>
  sql`(${stock.code} = ${root} or ${stock.code} > ${`${root}.`} and ${stock.code} < ${`${root}/`})`;

export const replaced = (
  before: StockItem,
  after: StockItem,
): { action: string; subject: string } & Changed => ({
  action: 'stock-item.replace',
  subject: after.code,
  before,
  after,
});

export async function writeItem(ctx: Ctx, item: StockItem): Promise<void> {
  await ctx.tx
    .update(stock)
    .set({
      body: item,
      version: sql`${stock.version} + 1`,
      updatedAt: ctx.now(),
      updatedBy: ctx.actor,
    })
    .where(and(eq(stock.clubId, ctx.club), eq(stock.code, item.code)));
}

export interface Last {
  number: number;
  balance: number;
}

/** The last row of each of these items, by code. */
export async function lastOf(ctx: Ctx, codes: readonly string[]): Promise<Map<string, Last>> {
  if (codes.length === 0) return new Map();
  const rows = await ctx.tx
    .selectDistinctOn([table.stockCode], {
      code: table.stockCode,
      number: table.number,
      balance: table.balance,
    })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.stockCode, [...codes])))
    .orderBy(asc(table.stockCode), desc(table.number));
  return new Map(rows.map(({ code, ...last }) => [code, last]));
}

/** What was paid for all that lies there of each of these items, by code. */
export async function worthOf(ctx: Ctx, codes: readonly string[]): Promise<Map<string, Worth>> {
  if (codes.length === 0) return new Map();
  const rows = await ctx.tx
    .select({
      code: table.stockCode,
      currency: sql<string>`${table.body} -> 'worth' ->> 'currency'`,
      amount: sql<string>`sum((${table.body} -> 'worth' ->> 'amount')::numeric)::text`,
    })
    .from(table)
    .where(
      and(eq(table.clubId, ctx.club), inArray(table.stockCode, [...codes]), sql`${table.body} ? 'worth'`),
    )
    .groupBy(table.stockCode, sql`${table.body} -> 'worth' ->> 'currency'`)
    .orderBy(table.stockCode);
  const worth = new Map<string, Worth>();
  // Of a club that has changed its currency the first that is left.
  for (const { code, currency, amount } of rows)
    if (!worth.has(code) && Number(amount) !== 0) worth.set(code, { amount, currency });
  return worth;
}

/**
 * Adds a row for each item, which has its count after the movement. What is taken takes its share of what was paid for what
 * lay there.
 */
export async function append(
  ctx: Ctx,
  rows: readonly { item: StockItem; moved: Moved }[],
  last: ReadonlyMap<string, Last>,
): Promise<void> {
  const paid = await worthOf(
    ctx,
    rows.filter(({ moved }) => moved.change < 0).map(({ item }) => item.code),
  );
  const withWorth = ({ item, moved: { change, body } }: (typeof rows)[number]): MovementBody => {
    const worth = paid.get(item.code);
    if (change >= 0 || !worth) return body;
    return { ...body, worth: negative(shareOfWorth(worth, -change, item.count - change)) };
  };
  await insertMany(
    ctx,
    table,
    rows.map(({ item, moved }) => ({
      clubId: ctx.club,
      stockCode: item.code,
      number: (last.get(item.code)?.number ?? 0) + 1,
      id: ctx.newId(),
      kind: moved.kind,
      change: moved.change,
      balance: item.count,
      movedAt: ctx.now(),
      movedBy: ctx.actor,
      body: withWorth({ item, moved }),
    })),
  );
}
