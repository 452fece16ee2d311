import { and, eq, inArray } from 'drizzle-orm';
import { acceptQuote, getOrder, stepOrder } from '../../db/orders.ts';
import { cutByPlan } from '../../db/cutPlan.ts';
import { StoreError } from '../../db/errors.ts';
import { releaseStock } from '../../db/keepForQuote.ts';
import { moveStock } from '../../db/movements.ts';
import { chargeOrder, costOfOrder, refundOrder, returnGoods } from '../../db/orderEntries.ts';
import { createQuote, storeResult } from '../../db/quotes.ts';
import { receive } from '../../db/receipts.ts';
import { aloneOnShelf } from '../../db/reservations.ts';
import { reservations, stock, stockMovements } from '../../db/schema/index.ts';
import { MovementIn } from '../../worker/engine/model/movement.ts';
import { ReceiptIn } from '../../worker/engine/model/order.ts';
import { minorOf } from '../../worker/engine/model/orderCost.ts';
import type { TestClub } from './house.ts';

/** What people do with quotes, orders and their shelf, at random; and whether the books are right afterwards. */

export interface Life {
  club: TestClub;
  /** The loom of the quotes, and how many of it. */
  looms: { loom: string; quantity: number }[];
  /** The job and the result that every quote gets. */
  job: string;
  result: string;
  below: (limit: number) => number;
  /** How often each was done, and how often all together was refused. */
  counts: { done: Map<string, number>; refused: number };
}

interface Sequence {
  quotes: string[];
  orders: string[];
  /** The stock items that it is about: what is there from the beginning, what came, and offcuts. */
  codes: string[];
}

/** A quote with the result of the house’s first one. */
async function quote({ club, looms, job, result }: Life): Promise<string> {
  return club.run(async (ctx) => {
    const { quote: made } = await createQuote({ ctx, input: { looms } });
    await storeResult({ ctx, input: { id: made.id, job, jobHash: 'hash', result } });
    return made.id;
  });
}

const gbp = (minor: number) => ({ amount: (minor / 100).toFixed(2), currency: 'GBP' });

/** Gives whether there was anything to do it with. */
type Step = (life: Life, at: Sequence) => Promise<boolean>;
const one = <T>({ below }: Life, of: readonly T[]): T | undefined => of[below(of.length)];

const accept: Step = async (life, at) => {
  const id = one(life, at.quotes);
  if (id === undefined) return false;
  const made = await life.club.run((ctx) => acceptQuote({ ctx, input: { id } }));
  at.orders.push(...made.map(({ row }) => row.id));
  return true;
};

/** One in four is another step than the next. */
const step: Step = async (life, at) => {
  const id = one(life, at.orders);
  if (id === undefined) return false;
  const to = life.below(4) > 0 ? 'sent' : life.below(2) > 0 ? 'cancelled' : 'closed';
  await life.club.run((ctx) => stepOrder({ ctx, input: { id, to, openLines: 'givenUp' } }));
  return true;
};

const delivery: Step = async (life, at) => {
  const id = one(life, at.orders);
  if (id === undefined) return false;
  const { below, club } = life;
  const { lines } = await club.run((ctx) => getOrder({ ctx, input: { id } }));
  // Mostly what is still to come, at times more.
  const said = lines.map(({ line, unit, outstanding }) => ({
    line,
    ...(unit === 'mm'
      ? { lengthsMm: [1 + below(Math.max(1, outstanding)), ...(below(6) === 0 ? [1 + below(3000)] : [])] }
      : { arrived: below(outstanding + 1) + (below(8) === 0 ? 1 : 0) }),
    faulty: below(2),
    wrong: below(8) === 0 ? 1 : 0,
    notComing: below(9) === 0 ? 1 : 0,
    over: below(3) === 0,
    ...(below(3) === 0 ? { paid: gbp(below(900)) } : {}),
  }));
  const receipt = ReceiptIn.parse({
    lines: said
      .filter(() => below(4) > 0)
      .concat(said.slice(0, 1))
      .slice(0, said.length),
    ...(below(3) === 0 ? { number: `D${below(3)}` } : {}),
  });
  const { shelved } = await club.run((ctx) => receive({ ctx, input: { id, receipt } }));
  at.codes.push(...shelved.map(({ code }) => code));
  return true;
};

const movement: Step = async (life, at) => {
  const { below, club } = life;
  const code = one(life, at.codes);
  if (code === undefined) return false;
  const forQuote = below(2) > 0 ? { quote: one(life, at.quotes) } : {};
  const asked = [
    () => ({ kind: 'found', count: 1 + below(6) }),
    () => ({ kind: 'lost', count: 1 + below(3), reason: 'fell' }),
    () => ({ kind: 'counted', count: below(9), reason: 'looked' }),
    () => ({ kind: 'used', count: 1 + below(4), ...forQuote }),
    () => ({ kind: 'moved', place: `drawer ${below(3)}` }),
    () => ({ kind: 'cut', piecesMm: [1 + below(1500)], ...forQuote }),
  ];
  const { offcut } = await club.run((ctx) =>
    moveStock({ ctx, input: { code, asked: MovementIn.parse(asked[below(asked.length)]?.()) } }),
  );
  if (offcut) at.codes.push(offcut.code);
  return true;
};

const planned: Step = async (life, at) => {
  const id = one(life, at.quotes);
  if (id === undefined) return false;
  const done = await life.club.run((ctx) => cutByPlan({ ctx, input: { id } }));
  for (const { cuts } of done) for (const { offcut } of cuts) if (offcut) at.codes.push(offcut.code);
  return true;
};

const goBack: Step = async (life, at) => {
  const id = one(life, at.orders);
  if (id === undefined) return false;
  const { below, club } = life;
  const what = (['right', 'right', 'faulty', 'faulty', 'wrong'] as const)[below(5)] ?? 'right';
  const item = one(life, at.codes);
  const goods = { line: 1 + below(2), what, count: 1, agreed: true };
  await club.run((ctx) =>
    returnGoods({
      ctx,
      input: {
        id,
        goods: { ...goods, ...(below(2) > 0 && item !== undefined ? { stock: item } : {}) },
      },
    }),
  );
  return true;
};

const money: Step = async (life, at) => {
  const id = one(life, at.orders);
  if (id === undefined) return false;
  const { below, club } = life;
  await club.run<unknown>((ctx) =>
    below(2) > 0
      ? refundOrder({ ctx, input: { id, refund: { refund: gbp(below(400)), fee: gbp(below(50)) } } })
      : chargeOrder({ ctx, input: { id, charges: { postage: gbp(below(900)) } } }),
  );
  return true;
};

const letGo: Step = async (life, at) => {
  const id = one(life, at.quotes);
  if (id === undefined) return false;
  await life.club.run((ctx) => releaseStock({ ctx, input: { id } }));
  return true;
};

/** How often each is done. */
const STEPS: readonly Step[] = [
  accept,
  accept,
  step,
  step,
  delivery,
  delivery,
  delivery,
  delivery,
  movement,
  movement,
  movement,
  planned,
  goBack,
  goBack,
  goBack,
  money,
  letGo,
];

/** As much is there of what the quotes take as in the beginning, and more. */
async function stockedUp({ club }: Life): Promise<void> {
  for (const [code, count] of [
    ['rings', 5],
    ['red', 2],
  ] as const)
    await club.run((ctx) =>
      moveStock({ ctx, input: { code, asked: MovementIn.parse({ kind: 'found', count }) } }),
    );
}

export const STEP_NAMES: ReadonlySet<string> = new Set(STEPS.map(({ name }) => name));

/** So many things that people do with two quotes, each as the stores take or refuse it; then the quotes are let go. */
export async function liveThrough(life: Life, steps: number): Promise<Sequence> {
  const at: Sequence = {
    quotes: [await quote(life), await quote(life)],
    orders: [],
    codes: ['rings', 'red'],
  };
  await stockedUp(life);
  const all = [accept, step, ...Array.from({ length: steps }, () => one(life, STEPS) ?? accept)];
  for (const each of all)
    try {
      if (!(await each(life, at))) continue;
      life.counts.done.set(each.name, (life.counts.done.get(each.name) ?? 0) + 1);
    } catch (error) {
      // Refused in words; all else is a fault of the service.
      if (!(error instanceof StoreError)) throw error;
      life.counts.refused += 1;
    }
  if (steps > 0)
    for (const id of at.quotes) await life.club.run((ctx) => releaseStock({ ctx, input: { id } }));
  return at;
}

export interface Books {
  /** What is wrong, in words. */
  faults: string[];
  movements: number;
}

/** Replays the ledger of a club, or of some items, and says where the shelf, what is kept or what it is worth do not agree. */
export async function auditShelf(club: TestClub, codes?: readonly string[]): Promise<Books> {
  return club.run(async (ctx) => {
    // What is read one after the other is of one moment: nobody else moves anything.
    await aloneOnShelf(ctx);
    const only = codes === undefined ? undefined : [...codes];
    const rows = await ctx.tx
      .select()
      .from(stockMovements)
      .where(and(eq(stockMovements.clubId, ctx.club), only && inArray(stockMovements.stockCode, only)))
      .orderBy(stockMovements.stockCode, stockMovements.number);
    const items = await ctx.tx
      .select({ code: stock.code, body: stock.body })
      .from(stock)
      .where(and(eq(stock.clubId, ctx.club), only && inArray(stock.code, only)));
    const kept = await ctx.tx
      .select()
      .from(reservations)
      .where(and(eq(reservations.clubId, ctx.club), only && inArray(reservations.stockCode, only)));
    const faults: string[] = [];
    const sums = new Map<string, { number: number; balance: number; worth: bigint }>();
    for (const { stockCode, number, change, balance, body } of rows) {
      const before = sums.get(stockCode) ?? { number: 0, balance: 0, worth: 0n };
      const worth = before.worth + (body.worth ? minorOf(body.worth) : 0n);
      const where = `${stockCode}, movement ${number}`;
      if (number !== before.number + 1) faults.push(`${where}: a number is missing before it`);
      if (balance !== before.balance + change)
        faults.push(`${where}: ${before.balance} and ${change} are not ${balance}`);
      if (balance < 0) faults.push(`${where}: ${balance} are there`);
      if (worth < 0n || (balance === 0 && worth !== 0n))
        faults.push(`${where}: ${balance} are worth ${worth}`);
      sums.set(stockCode, { number, balance, worth });
    }
    for (const { code, body } of items) {
      const sum = sums.get(code)?.balance ?? 0;
      if (body.count !== sum) faults.push(`${code}: the shelf has ${body.count}, the ledger ${sum}`);
      const own = kept.filter(({ stockCode }) => stockCode === code);
      const all = own.reduce((total, { count }) => total + count, 0);
      if (all > body.count) faults.push(`${code}: ${all} are kept of ${body.count}`);
    }
    return { faults, movements: rows.length };
  });
}

/** Audits what a sequence was about, with the money of its orders. */
export async function auditSequence(life: Life, at: Sequence): Promise<Books> {
  const { faults, movements } = await auditShelf(life.club, at.codes);
  for (const id of at.orders) {
    const { cost, order } = await life.club.run(async (ctx) => ({
      cost: await costOfOrder({ ctx, input: { id } }),
      order: await getOrder({ ctx, input: { id } }),
    }));
    const name = `order ${order.row.number}`;
    const sum = (amounts: readonly { amount: string; currency: string }[]) =>
      amounts.reduce((total, amount) => total + minorOf(amount), 0n);
    if (sum(cost.items.map(({ paid }) => paid)) !== minorOf(cost.paid))
      faults.push(`${name}: the items are not the total`);
    if (sum(cost.lines.map(({ paid }) => paid)) !== minorOf(cost.items[0]?.paid ?? cost.paid))
      faults.push(`${name}: the lines are not the goods`);
    if (minorOf(cost.paid) - minorOf(cost.quoted) !== minorOf(cost.difference))
      faults.push(`${name}: the difference is another`);
    for (const { line, expected, quoted } of cost.lines)
      if (minorOf(expected) > minorOf(quoted))
        faults.push(`${name}, line ${line}: more than all of it is expected`);
    for (const { line, arrived, returned, outstanding, faulty, wrong } of order.lines)
      if (outstanding < 0 || returned.right > arrived || returned.faulty > faulty || returned.wrong > wrong)
        faults.push(`${name}, line ${line}: more went back than came`);
  }
  return { faults, movements };
}
