import type { OrderLineState } from '../../worker/engine/model/order.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client, Got } from './client.ts';

/** An order as the API tells it. */
export interface Order {
  id: string;
  number: number;
  state: string;
  supplierNumber?: string;
  steps: { state: string; at: string; who: string; note?: string }[];
  lines: OrderLineState[];
  list: OrderList;
}

/** The id of a quote of one loom whose task has ended; a worker runs. */
export async function quoted(client: Client, more: object = {}): Promise<string> {
  const asked = await client.post('/v1/quotes', {
    looms: [{ loom: 'loom', quantity: 1 }],
    settings: { besideSeconds: 0 },
    ...more,
  });
  const { id, task } = asked.json<{ id: string; task: string }>();
  // The stream ends with the task.
  await client.get(`${task}/events`);
  return id;
}

/** The one order of a quote, accepted and sent. */
export async function sentOrder(client: Client, quote: string): Promise<Order> {
  const got = await client.post(`/v1/quotes/${quote}/accept`, {});
  const [order] = got.json<{ items?: Order[] }>().items ?? [];
  if (!order) throw new Error(`no order: ${got.text}`);
  return (await client.post(`/v1/orders/${order.id}/steps`, { to: 'sent' })).json<Order>();
}

/** Enters a delivery. */
export const came = (client: Client, order: Order, body: object): Promise<Got> =>
  client.post(`/v1/orders/${order.id}/receipts`, body);

/** The number of the line that buys in this form. */
export const lineOf = (order: Order, form: string): number =>
  order.list.lines.find(({ bought }) => bought.form === form)?.line ?? 0;

export const shelfOf = async (client: Client): Promise<StockItem[]> =>
  (await client.get('/v1/stock?limit=500')).json<{ items: StockItem[] }>().items;
