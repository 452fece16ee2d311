import { orders, orderSteps } from '../../db/schema/index.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import type { TestClub } from './house.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });

/** An order list of nothing, as it stands in an order. */
const EMPTY: OrderList = {
  supplier: 'shop',
  name: 'Corner Electrics',
  lines: [],
  goods: gbp('0.00'),
  postage: gbp('0.00'),
  handling: gbp('0.00'),
  rounding: gbp('0.00'),
  total: gbp('0.00'),
};

let made = 0;

/** Stores an order of a quote, whatever the quote has come to; gives its id. */
export async function frozenOrder(club: TestClub, quoteId: string): Promise<string> {
  const number = ++made;
  return club.run(async (ctx) => {
    const id = ctx.newId();
    const when = { createdAt: ctx.now(), updatedAt: ctx.now(), createdBy: ctx.actor, updatedBy: ctx.actor };
    await ctx.tx.insert(orders).values({
      clubId: ctx.club,
      id,
      number,
      quoteId,
      supplierCode: 'shop',
      wave: number,
      state: 'draft',
      asOf: '2026-11-02',
      list: EMPTY,
      goods: [],
      version: 1,
      ...when,
    });
    await ctx.tx.insert(orderSteps).values({
      clubId: ctx.club,
      orderId: id,
      number: 1,
      state: 'draft',
      madeAt: ctx.now(),
      madeBy: ctx.actor,
    });
    return id;
  });
}
