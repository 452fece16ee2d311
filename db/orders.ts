import { and, asc, desc, eq, lt, max, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { goodsOf } from '../worker/engine/model/orderGoods.ts';
import { lineStates } from '../worker/engine/model/orderLines.ts';
import type { OrderLineState, OrderState } from '../worker/engine/model/order.ts';
import { quoteToday } from '../worker/engine/model/quoteToday.ts';
import type { Rate } from '../worker/engine/model/rate.ts';
import type { Result } from '../worker/engine/model/result.ts';
import { readResult } from '../worker/engine/model/upgrade.ts';
import { namesOf } from './actors.ts';
import { authorsOf, privateToOf, record, type Ctx } from './club.ts';
import { Conflict, Invalid, NotFound, Stale } from './errors.ts';
import { keepOffShelf, keepUntil, lapseWithout } from './keepForQuote.ts';
import { requireMayOrder } from './mayOrder.ts';
import { todayOf } from './offerPrices.ts';
import { offersByCode } from './offers.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { getQuote, getQuoteText } from './quotes.ts';
import { orderEntries, orders, orderSteps, receipts } from './schema/index.ts';
import { aloneOnShelf } from './reservations.ts';
import { isVersion, type Changeable } from './version.ts';

type Row = typeof orders.$inferSelect;

export interface StoredOrder {
  row: Row;
  steps: { state: OrderState; note: string | null; at: Date; who: string }[];
  lines: OrderLineState[];
}

/**
 * Makes orders of a quote’s order lists, as they are; of some suppliers, where they are named. Errors: NotFound; Forbidden for
 * another’s quote; Invalid for a supplier of whom it orders nothing; Conflict where it is not finished, where an offer has
 * changed since, where one of them is ordered already, or where others have taken what it takes off the shelf. All of them or
 * none. What it takes off the shelf is kept for it, until a day if one is named.
 */
export async function acceptQuote({
  ctx,
  input: { id, suppliers, keepUntil: until },
}: {
  ctx: Ctx;
  input: { id: string; suppliers?: readonly string[] | undefined; keepUntil?: string | undefined };
}): Promise<StoredOrder[]> {
  const { quote } = await requireMayOrder(ctx, id);
  const result = readResult(JSON.parse(await getQuoteText({ ctx, input: { id, which: 'result' } })));
  const lists = result.orderLists.filter(
    ({ supplier }) => suppliers === undefined || suppliers.includes(supplier),
  );
  requireOrdered(result, suppliers);
  await refuseChanged(ctx, id, result, new Set(lists.map(({ supplier }) => supplier)));
  // One at a time in a club, so that each gets its number.
  await ctx.tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`orders ${ctx.club}`}, 0))`);
  const before = await ctx.tx
    .select({
      supplier: orders.supplierCode,
      wave: orders.wave,
      number: orders.number,
      state: orders.state,
    })
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), eq(orders.quoteId, id)));
  const taken = lists.flatMap((list) =>
    before.filter((one) => one.supplier === list.supplier && one.wave === (list.wave ?? 1)),
  );
  if (taken.length > 0)
    throw new Conflict(
      'already-ordered',
      `${taken.map(({ supplier, number }) => `Order ${number} from ${supplier} is there already`).join('. ')}. Nothing was stored. Name the other suppliers of the quote, or go on with these orders.`,
    );
  if (until !== undefined && until < todayOf(ctx)) throw new Invalid([dayOver(until)]);
  await aloneOnShelf(ctx);
  // What was kept with its first orders may be built in by now.
  if (before.every(({ state }) => state === 'cancelled')) await keepOffShelf(ctx, quote, result, until);
  else if (until !== undefined) await keepUntil(ctx, quote.restOf ?? id, until);
  const [last] = await ctx.tx
    .select({ number: max(orders.number) })
    .from(orders)
    .where(eq(orders.clubId, ctx.club));
  let number = last?.number ?? 0;
  const made: string[] = [];
  for (const list of lists) {
    number += 1;
    const order = {
      clubId: ctx.club,
      id: ctx.newId(),
      number,
      quoteId: id,
      supplierCode: list.supplier,
      wave: list.wave ?? 1,
      state: 'draft' as const,
      asOf: result.asOf,
      list,
      goods: goodsOf(list, result),
      version: 1,
      createdAt: ctx.now(),
      updatedAt: ctx.now(),
      ...authorsOf(ctx),
    };
    await ctx.tx.insert(orders).values(order);
    await addStep(ctx, order.id, { number: 1, state: 'draft' });
    await record(ctx, 'order.create', order.id, {
      after: { number, quote: id, supplier: list.supplier, total: list.total },
      privateTo: privateToOf(quote),
    });
    made.push(order.id);
  }
  const stored: StoredOrder[] = [];
  for (const one of made) stored.push(await getOrder({ ctx, input: { id: one } }));
  return stored;
}

/** Errors: Invalid for suppliers of whom the quote orders nothing; Conflict where it neither orders nor takes anything. */
function requireOrdered(
  { orderLists: lists, fromStock }: Pick<Result, 'orderLists' | 'fromStock'>,
  suppliers: readonly string[] = [],
): void {
  const there = new Set(lists.map(({ supplier }) => supplier));
  const findings = suppliers.flatMap((supplier, at) =>
    there.has(supplier)
      ? []
      : [
          {
            code: 'nothing-ordered',
            severity: 'stop' as const,
            at: `/suppliers/${at}`,
            where: `suppliers, number ${at + 1}`,
            found: supplier,
            todo:
              there.size === 0
                ? 'The quote orders nothing.'
                : `The quote orders from ${[...there].join(', ')}. Name one of these, or leave suppliers out.`,
          },
        ],
  );
  if (findings.length > 0) throw new Invalid(findings);
  if (lists.length === 0 && fromStock.length === 0)
    throw new Conflict(
      'nothing-to-order',
      'The quote orders nothing and takes nothing off the shelf, so there is nothing to accept.',
    );
}

const dayOver = (day: string): Finding => ({
  code: 'day-over',
  severity: 'stop',
  at: pointer(['keepUntil']),
  where: 'keepUntil',
  found: day,
  todo: 'That day is over. State today or a later day, or leave keepUntil out.',
});

const MOST_NAMED = 10;

/** Error: Conflict with what has changed and what it costs, at the rates of the quote: those are its own. */
async function refuseChanged(
  ctx: Ctx,
  id: string,
  result: Result,
  suppliers: ReadonlySet<string>,
): Promise<void> {
  const rates = result.orderLists.flatMap(({ theirs }): Rate[] =>
    theirs ? [{ code: 'then', currency: theirs.currency, rate: theirs.rate, on: theirs.on }] : [],
  );
  const purchases = result.purchases.filter(({ supplier }) => suppliers.has(supplier));
  const codes = [...new Set(purchases.map(({ offer }) => offer))];
  const now = quoteToday({
    quote: id,
    result: { ...result, purchases },
    offers: await offersByCode({ ctx, input: { codes } }),
    rates,
    today: LAST_DAY,
  });
  const changed = now.lines.filter(({ state, boughtToday }) => state !== 'same' || boughtToday !== undefined);
  if (changed.length === 0) return;
  const named = changed.slice(0, MOST_NAMED).map(({ offer, then, today, boughtToday, why }) => {
    if (!today) return `${offer}: ${why ?? 'it is gone.'}`;
    const price = `${offer} was ${then.amount} and is ${today.amount}`;
    return boughtToday ? `${price} for another pack, step or minimum` : price;
  });
  const more = changed.length > named.length ? `; and ${changed.length - named.length} more` : '';
  throw new Conflict(
    'offers-changed',
    `Offers have changed since this quote (${now.currency}): ${named.join('; ')}${more}. These goods were ${now.compared.then.amount} and are ${now.compared.today.amount}. Nothing was ordered. Ask for the quote again: POST /v1/quotes/${id}/again.`,
  );
}

/** The rates that are given are those that hold. */
const LAST_DAY = '9999-12-31';

async function addStep(
  ctx: Ctx,
  orderId: string,
  step: { number: number; state: OrderState; note?: string | undefined },
): Promise<void> {
  await ctx.tx.insert(orderSteps).values({
    clubId: ctx.club,
    orderId,
    ...step,
    madeAt: ctx.now(),
    madeBy: ctx.actor,
  });
}

/** Error: NotFound. `hold`: nobody else changes it until the transaction ends. */
export async function orderRow(ctx: Ctx, id: string, hold = false): Promise<Row> {
  const query = ctx.tx
    .select()
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, id)));
  const [row] = hold ? await query.for('no key update') : await query;
  if (!row) throw new NotFound(`order ${id}`);
  return row;
}

/** The deliveries of an order, in the order in which they came. */
export async function receiptsOf(ctx: Ctx, orderId: string) {
  return ctx.tx
    .select()
    .from(receipts)
    .where(and(eq(receipts.clubId, ctx.club), eq(receipts.orderId, orderId)))
    .orderBy(asc(receipts.id));
}

/** What was said of an order beside its deliveries, in the order in which it was said. */
export async function entriesOf(ctx: Ctx, orderId: string) {
  return ctx.tx
    .select()
    .from(orderEntries)
    .where(and(eq(orderEntries.clubId, ctx.club), eq(orderEntries.orderId, orderId)))
    .orderBy(asc(orderEntries.id));
}

/** Error: NotFound. */
export async function getOrder({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id);
  const steps = await ctx.tx
    .select()
    .from(orderSteps)
    .where(and(eq(orderSteps.clubId, ctx.club), eq(orderSteps.orderId, id)))
    .orderBy(asc(orderSteps.number));
  const who = await namesOf(
    ctx,
    steps.map(({ madeBy }) => madeBy),
  );
  const came = await receiptsOf(ctx, id);
  return {
    row,
    steps: steps.map(({ state, note, madeAt, madeBy }) => ({
      state,
      note,
      at: madeAt,
      who: who.get(madeBy) ?? madeBy,
    })),
    lines: lineStates(
      row.list.lines,
      came.map(({ body }) => body),
      (await entriesOf(ctx, id)).map(({ body }) => body),
    ),
  };
}

export interface OrdersInput extends PageInput {
  state?: OrderState | undefined;
  supplier?: string | undefined;
  quote?: string | undefined;
}

/** The newest first, without their lines. */
export async function listOrders({
  ctx,
  input: { limit, after, state, supplier, quote },
}: {
  ctx: Ctx;
  input: OrdersInput;
}): Promise<Page<Row>> {
  const rows = await ctx.tx
    .select()
    .from(orders)
    .where(
      and(
        eq(orders.clubId, ctx.club),
        state === undefined ? undefined : eq(orders.state, state),
        supplier === undefined ? undefined : eq(orders.supplierCode, supplier),
        quote === undefined ? undefined : eq(orders.quoteId, quote),
        after === undefined ? undefined : lt(orders.id, after),
      ),
    )
    .orderBy(desc(orders.id))
    .limit(limit + 1);
  return pageOf(
    rows,
    limit,
    ({ id }) => id,
    (row) => row,
  );
}

/** What a person can bring about; the other states follow from deliveries. */
const NEXT: Record<OrderState, readonly OrderState[]> = {
  draft: ['sent', 'cancelled'],
  sent: ['cancelled', 'closed'],
  partReceived: ['closed'],
  received: ['closed'],
  closed: [],
  cancelled: [],
};

/**
 * Takes an order to its next state. Errors: NotFound; Forbidden for another’s; Conflict where that state does not follow, or
 * where it would be closed with lines still to come and nobody says that they are given up.
 */
export async function stepOrder({
  ctx,
  input: { id, to, note, openLines },
}: {
  ctx: Ctx;
  input: { id: string; to: OrderState; note?: string | undefined; openLines?: 'givenUp' | undefined };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id, true);
  await requireMayOrder(ctx, row.quoteId);
  const next = NEXT[row.state];
  if (!next.includes(to))
    throw new Conflict(
      'not-the-next-state',
      `Order ${row.number} is ${row.state}. ${next.length === 0 ? 'It stays so.' : `From there it can become ${next.join(' or ')}.`}`,
    );
  if (to === 'closed' && openLines !== 'givenUp') {
    const { lines } = await getOrder({ ctx, input: { id } });
    const open = lines.filter(({ outstanding }) => outstanding > 0).map(({ line }) => line);
    if (open.length > 0)
      throw new Conflict(
        'lines-open',
        `Of order ${row.number} something is still to come on line ${open.slice(0, MOST_NAMED).join(', ')}. Wait for it, or close the order with "openLines": "givenUp".`,
      );
  }
  await setState(ctx, row, to, note);
  if (to === 'cancelled') await lapseWithout(ctx, row.quoteId);
  return getOrder({ ctx, input: { id } });
}

/** Writes a state that is another one, with its step. */
export async function setState(ctx: Ctx, row: Row, state: OrderState, note?: string): Promise<void> {
  await ctx.tx
    .update(orders)
    .set({ state, version: row.version + 1, updatedAt: ctx.now(), updatedBy: ctx.actor })
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, row.id)));
  if (state === row.state) return;
  const [last] = await ctx.tx
    .select({ number: max(orderSteps.number) })
    .from(orderSteps)
    .where(and(eq(orderSteps.clubId, ctx.club), eq(orderSteps.orderId, row.id)));
  await addStep(ctx, row.id, { number: (last?.number ?? 0) + 1, state, note });
  await recordOrder(ctx, row, 'order.step', { before: { state: row.state }, after: { state } });
}

/** Writes the record of an order, seen as its quote is. */
export async function recordOrder(
  ctx: Ctx,
  { id, quoteId }: Row,
  action: string,
  changed: { before?: unknown; after?: unknown },
): Promise<void> {
  const { quote } = await getQuote({ ctx, input: { id: quoteId } });
  await record(ctx, action, id, { ...changed, privateTo: privateToOf(quote) });
}

/** The supplier’s number and your note. Errors: NotFound, Forbidden, Stale. */
export async function changeOrder({
  ctx,
  input: { id, supplierNumber, note, version },
}: {
  ctx: Ctx;
  input: {
    id: string;
    supplierNumber?: string | undefined;
    note?: string | undefined;
    version: Changeable;
  };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id, true);
  await requireMayOrder(ctx, row.quoteId);
  if (!isVersion(row, version)) throw new Stale();
  const after = { supplierNumber: supplierNumber ?? null, note: note ?? null };
  await ctx.tx
    .update(orders)
    .set({ ...after, version: row.version + 1, updatedAt: ctx.now(), updatedBy: ctx.actor })
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, id)));
  await recordOrder(ctx, row, 'order.change', {
    before: { supplierNumber: row.supplierNumber, note: row.note },
    after,
  });
  return getOrder({ ctx, input: { id } });
}
