import { and, desc, eq, inArray, lt } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { Movement, MovementBody, MovementIn, MovementKind } from '../worker/engine/model/movement.ts';
import { resolveSettings } from '../worker/engine/model/settings.ts';
import { headOf, move, offcutCode, type Refusal } from '../worker/engine/model/shelfMove.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { shareOfWorth } from '../worker/engine/model/worth.ts';
import { namesOf } from './actors.ts';
import type { Change } from './bulk.ts';
import { recordAll, type Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { Invalid, NotFound } from './errors.ts';
import { append, lastOf, putOnShelf, replaced, worthOf, writeItem } from './ledger.ts';
import { requireMayOrder } from './mayOrder.ts';
import { requireMayChange } from './own.ts';
import { aloneOnShelf, firstOf, keepNoMoreThan, keptFor, keptOfItem, takeKept } from './reservations.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { quotes, stock, stockMovements as table } from './schema/index.ts';

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
  for (const { body, before } of changes)
    if (before && (body.count < before.count || !isAlike(body, before)))
      await keepNoMoreThan(ctx, body.code, isAlike(body, before) ? body.count : 0);
}

/** Whether pieces stay pieces, and lengths as long as they are. */
function isAlike(one: StockItem, other: StockItem): boolean {
  const lengthOf = (item: StockItem) => (item.form === 'length' ? item.lengthMm : undefined);
  return lengthOf(one) === lengthOf(other);
}

/** Items whose entries are removed are there no more. */
export async function endMovements(ctx: Ctx, codes: readonly string[]): Promise<void> {
  for (const code of codes) await keepNoMoreThan(ctx, code, 0);
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
  /** How many were kept for quotes and are not there any more. */
  letGo?: number;
}

/**
 * Moves a stock item: one row of the ledger, and for a cut one of the offcut too. Errors: NotFound; Forbidden for what is
 * another’s; Invalid for more than is there, and for a quote that is not.
 */
export async function moveStock({
  ctx,
  input: { code, asked },
}: {
  ctx: Ctx;
  input: { code: string; asked: MovementIn };
}): Promise<MoveAnswer> {
  await aloneOnShelf(ctx);
  await requireQuote(ctx, 'quote' in asked ? asked.quote : undefined);
  return moveAlone(ctx, code, asked);
}

/** The same, for who is alone on the shelf already. `planned`: what a cut does of the cutting plan of its quote. */
export async function moveAlone(
  ctx: Ctx,
  code: string,
  asked: MovementIn,
  planned: Pick<MovementBody, 'requirement' | 'entry'> = {},
): Promise<MoveAnswer> {
  const [row] = await ctx.tx
    .select()
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), eq(stock.code, code)))
    .for('no key update');
  if (!row) throw new NotFound(`stock item ${code}`);
  const quote = 'quote' in asked ? asked.quote : undefined;
  const first = quote === undefined ? null : await firstOf(ctx, quote);
  // What is kept for a quote is used by whoever may order from it, whose ever it is; no more than that.
  const wanted = asked.kind === 'used' ? asked.count : 1;
  if (quote === undefined || first === null || (await keptOfItem(ctx, first, code)) < wanted)
    requireMayChange(ctx, { what: `stock item ${code}`, many: 'stock' }, row);
  else await requireMayOrder(ctx, quote);
  const { settings } = await getClub({ ctx });
  const offcutMinimumMm = resolveSettings({ club: settings }).offcutMinimumMm.value;
  const keptForOthers = (await keptFor(ctx, { but: first, codes: [code] })).get(code) ?? 0;
  const done = move(row.body, asked, { offcutMinimumMm, keptForOthers });
  if ('todo' in done) throw new Invalid([refused(code, done)]);
  const { item, moved, droppedMm } = done;
  const offcut = done.offcut && (await keepOffcut(ctx, row, done.offcut.lengthMm));
  await writeItem(ctx, item);
  const last = await lastOf(ctx, [code]);
  const told = {
    ...moved,
    body: { ...moved.body, ...(offcut ? { offcut: offcut.code } : {}), ...planned },
  };
  await append(ctx, [{ item, moved: told }], last);
  await recordAll(ctx, [replaced(row.body, item)]);
  if (first !== null) await takeKept(ctx, first, code, row.body.count - item.count);
  const letGo = await keepNoMoreThan(ctx, code, item.count);
  const [movement] = (await listMovements({ ctx, input: { limit: 1, stock: code } })).items;
  if (!movement) throw new Error('the movement was not stored');
  return {
    movement,
    item,
    ...(offcut ? { offcut } : {}),
    ...(droppedMm === undefined ? {} : { droppedMm }),
    ...(letGo === 0 ? {} : { letGo }),
  };
}

/** Error: Invalid for a quote that is not there. */
async function requireQuote(ctx: Ctx, id: string | undefined): Promise<void> {
  if (id === undefined) return;
  const there = await ctx.tx
    .select({ id: quotes.id })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, id)));
  if (there.length > 0) return;
  throw new Invalid([
    {
      code: 'unknown-quote',
      severity: 'stop',
      at: pointer(['quote']),
      where: 'quote',
      found: JSON.stringify(id),
      todo: 'There is no such quote. Use the id as GET /v1/quotes has it, or leave quote out.',
    },
  ]);
}

/** The rest of a length on the shelf. */
async function keepOffcut(
  ctx: Ctx,
  { body: parent, ownerId }: typeof stock.$inferSelect,
  lengthMm: number,
): Promise<StockItem> {
  if (parent.form !== 'length') throw new Error('only lengths are cut');
  const paid = (await worthOf(ctx, [parent.code])).get(parent.code);
  const worth = paid && shareOfWorth(paid, 1, parent.count);
  return putOnShelf(ctx, {
    root: offcutCode(parent, parent.lengthMm, { lengthMm }),
    item: { ...parent, lengthMm, count: 1 },
    ownerId,
    kind: 'offcut',
    body: {
      cutFrom: parent.code,
      ...(worth ? { worth: shareOfWorth(worth, lengthMm, parent.lengthMm) } : {}),
    },
  });
}

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
