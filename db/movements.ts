import { and, asc, desc, eq, inArray, lt, sql, type SQL } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { Movement, MovementIn, MovementKind } from '../worker/engine/model/movement.ts';
import { resolveSettings } from '../worker/engine/model/settings.ts';
import { headOf, move, offcutCode, type Moved, type Refusal } from '../worker/engine/model/shelfMove.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { namesOf } from './actors.ts';
import type { Change } from './bulk.ts';
import { authorsOf, recordAll, type Changed, type Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { Invalid, NotFound } from './errors.ts';
import { insertMany } from './insertMany.ts';
import { requireMayChange } from './own.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { stock, stockMovements as table } from './schema/index.ts';

/** What is told of items by whoever writes their bodies whole: the ledger gets what the count has changed by. */
export async function keepMovements(ctx: Ctx, changes: readonly Change<StockItem>[]): Promise<void> {
  const last = await lastOf(
    ctx,
    changes.map(({ body }) => body.code),
  );
  await append(
    ctx,
    changes.flatMap(({ body }) => {
      const before = last.get(body.code);
      const change = body.count - (before?.balance ?? 0);
      if (change === 0) return [];
      const kind: MovementKind = before === undefined ? 'found' : 'counted';
      const reason = before === undefined ? {} : { reason: 'The entry was changed.' };
      return [{ item: body, moved: { kind, change, body: { ...headOf(body), ...reason } } }];
    }),
    last,
  );
}

/** Items whose entries are removed are there no more. */
export async function endMovements(ctx: Ctx, codes: readonly string[]): Promise<void> {
  const rows = await ctx.tx
    .select({ body: stock.body })
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), inArray(stock.code, [...codes])));
  await append(
    ctx,
    rows
      .filter(({ body }) => body.count > 0)
      .map(({ body }) => ({
        item: { ...body, count: 0 },
        moved: {
          kind: 'lost' as const,
          change: -body.count,
          body: { ...headOf(body), reason: 'The entry was removed.' },
        },
      })),
    await lastOf(ctx, codes),
  );
}

export interface MoveAnswer {
  movement: Movement;
  item: StockItem;
  /** What became of the rest of a length that was cut. */
  offcut?: StockItem | undefined;
  droppedMm?: number | undefined;
}

/**
 * Moves a stock item: one row of the ledger, and for a cut one of the offcut too. Errors: NotFound; Forbidden for what is
 * another’s; Invalid for more than is there.
 */
export async function moveStock({
  ctx,
  input: { code, asked },
}: {
  ctx: Ctx;
  input: { code: string; asked: MovementIn };
}): Promise<MoveAnswer> {
  const [row] = await ctx.tx
    .select()
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), eq(stock.code, code)))
    .for('no key update');
  if (!row) throw new NotFound(`stock item ${code}`);
  requireMayChange(ctx, { what: `stock item ${code}`, many: 'stock' }, row);
  const { settings } = await getClub({ ctx });
  const offcutMinimumMm = resolveSettings({ club: settings }).offcutMinimumMm.value;
  const done = move(row.body, asked, { forOthers: 0, offcutMinimumMm });
  if ('todo' in done) throw new Invalid([refused(code, done)]);
  const { item, moved, droppedMm } = done;
  const offcut = done.offcut && (await keepOffcut(ctx, row, done.offcut.lengthMm));
  await write(ctx, item);
  const last = await lastOf(ctx, [code]);
  const told = offcut ? { ...moved, body: { ...moved.body, offcut: offcut.code } } : moved;
  await append(ctx, [{ item, moved: told }], last);
  await recordAll(ctx, [replaced(row.body, item)]);
  const [movement] = (await listMovements({ ctx, input: { limit: 1, stock: code } })).items;
  if (!movement) throw new Error('the movement was not stored');
  return {
    movement,
    item,
    ...(offcut ? { offcut } : {}),
    ...(droppedMm === undefined ? {} : { droppedMm }),
  };
}

/** The rest of a length on the shelf: one more of what is like it, or an item of its own. */
async function keepOffcut(
  ctx: Ctx,
  { body: parent, partCode, ownerId }: typeof stock.$inferSelect,
  lengthMm: number,
): Promise<StockItem> {
  if (parent.form !== 'length') throw new Error('only lengths are cut');
  const root = offcutCode(parent, parent.lengthMm, { lengthMm }, new Set());
  const there = await ctx.tx
    .select()
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), madeOf(root)))
    .orderBy(asc(stock.code))
    .for('no key update');
  const alike = there.find(
    ({ body, ownerId: owner }) =>
      body.form === 'length' &&
      body.lengthMm === lengthMm &&
      body.part === parent.part &&
      body.place === parent.place &&
      body.note === parent.note &&
      owner === ownerId,
  );
  const taken = new Set(there.map(({ code }) => code));
  const code = alike?.code ?? offcutCode(parent, parent.lengthMm, { lengthMm }, taken);
  const item: StockItem = { ...parent, code, lengthMm, count: (alike?.body.count ?? 0) + 1 };
  if (alike) await write(ctx, item);
  else
    await ctx.tx.insert(stock).values({
      clubId: ctx.club,
      code,
      partCode,
      ownerId,
      version: 1,
      createdAt: ctx.now(),
      updatedAt: ctx.now(),
      ...authorsOf(ctx),
      body: item,
    });
  const moved: Moved = { kind: 'offcut', change: 1, body: { ...headOf(item), cutFrom: parent.code } };
  await append(ctx, [{ item, moved }], await lastOf(ctx, [code]));
  await recordAll(ctx, [
    alike ? replaced(alike.body, item) : { action: 'stock-item.create', subject: code, after: item },
  ]);
  return item;
}

/** The codes that offcutCode makes of one root: no longer lengths, so that two cuts never wait for each other. */
const madeOf = (root: string): SQL =>
  sql`(${stock.code} = ${root} or ${stock.code} > ${`${root}.`} and ${stock.code} < ${`${root}/`})`;

const replaced = (before: StockItem, after: StockItem): { action: string; subject: string } & Changed => ({
  action: 'stock-item.replace',
  subject: after.code,
  before,
  after,
});

function refused(code: string, { code: fault, field, found, limit, todo }: Refusal): Finding {
  return {
    code: fault,
    severity: 'stop',
    at: pointer([field]),
    where: `stock item ${code}, ${field}`,
    found,
    limit,
    todo,
  };
}

async function write(ctx: Ctx, item: StockItem): Promise<void> {
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

interface Last {
  number: number;
  balance: number;
}

/** The last row of each of these items, by code. */
async function lastOf(ctx: Ctx, codes: readonly string[]): Promise<Map<string, Last>> {
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

/** Adds a row for each item, which has its count after the movement. */
async function append(
  ctx: Ctx,
  rows: readonly { item: StockItem; moved: Moved }[],
  last: ReadonlyMap<string, Last>,
): Promise<void> {
  await insertMany(
    ctx,
    table,
    rows.map(({ item, moved: { kind, change, body } }) => ({
      clubId: ctx.club,
      stockCode: item.code,
      number: (last.get(item.code)?.number ?? 0) + 1,
      id: ctx.newId(),
      kind,
      change,
      balance: item.count,
      movedAt: ctx.now(),
      movedBy: ctx.actor,
      body,
    })),
  );
}

export interface MovementsInput extends PageInput {
  stock?: string | undefined;
  kind?: MovementKind | undefined;
}

/** Error: NotFound where no such item is or ever was. */
export async function requireLedger({
  ctx,
  input: { code },
}: {
  ctx: Ctx;
  input: { code: string };
}): Promise<void> {
  if ((await lastOf(ctx, [code])).size > 0) return;
  const there = await ctx.tx
    .select({ code: stock.code })
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), eq(stock.code, code)));
  if (there.length === 0) throw new NotFound(`stock item ${code}`);
}

/** What happened on the shelf, the newest first. */
export async function listMovements({
  ctx,
  input: { limit, after, stock: code, kind },
}: {
  ctx: Ctx;
  input: MovementsInput;
}): Promise<Page<Movement>> {
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        code === undefined ? undefined : eq(table.stockCode, code),
        kind === undefined ? undefined : eq(table.kind, kind),
        after === undefined ? undefined : lt(table.id, after),
      ),
    )
    .orderBy(desc(table.id))
    .limit(limit + 1);
  const who = await namesOf(
    ctx,
    rows.map(({ movedBy }) => movedBy),
  );
  return pageOf(
    rows,
    limit,
    ({ id }) => id,
    ({ stockCode, number, kind, change, balance, movedAt, movedBy, body }) => ({
      ...body,
      stock: stockCode,
      number,
      kind,
      change,
      balance,
      at: movedAt.toISOString(),
      who: who.get(movedBy) ?? movedBy,
    }),
  );
}
