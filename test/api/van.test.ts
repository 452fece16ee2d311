import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { OrderCost } from '../../worker/engine/model/order.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client } from '../support/client.ts';
import { exampleJob, gbp } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { storeJob } from '../support/storeJob.ts';
import { came, quoted, type Order } from '../support/ordering.ts';

/** The figures are worked by hand in docs/orders.md, from the offers of the example. */

let house: TestHouse;
let admin: Client;
let quote: string;
let orders: Map<string, Order>;

/** Everything of an order as it was ordered, but for some lines. */
const wholeOf = (order: Order, but: readonly number[] = []) =>
  order.list.lines
    .filter(({ line }) => !but.includes(line))
    .map(({ line, bought }) =>
      bought.form === 'metre' ? { line, lengthsMm: [bought.lengthMm] } : { line, arrived: bought.packs },
    );
const orderOf = (supplier: string): Order => orders.get(supplier)!;
const lineFor = (supplier: string, requirement: string) =>
  orderOf(supplier).list.lines.find((line) => line.requirement === requirement)!.line;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  const club = await house.club();
  admin = await club.as('admin');
  const job = exampleJob('van');
  await storeJob(club, job);
  quote = await quoted(admin, { looms: job.request.looms, asOf: job.asOf });
  const got = await admin.post(`/v1/quotes/${quote}/accept`, {});
  expect(got.status, got.text).toBe(201);
  const { items } = got.json<{ items: Order[] }>();
  orders = new Map(items.map((order) => [order.list.supplier, order]));
  for (const { id } of items) await admin.post(`/v1/orders/${id}/steps`, { to: 'sent' });
}, 300_000);
afterAll(() => house.close());

describe('the van, ordered', () => {
  test('is four orders with the totals of the quote', () => {
    expect(
      Object.fromEntries([...orders].map(([supplier, { list }]) => [supplier, list.total.amount])),
    ).toEqual({
      fairlead: '111.28',
      gorsehill: '38.02',
      pinfold: '41.66',
      thimblerow: '62.36',
    });
  });

  test('comes, but for two lines of Gorsehill, and costs what came', async () => {
    for (const supplier of ['fairlead', 'pinfold', 'thimblerow']) {
      const got = await came(admin, orderOf(supplier), { lines: wholeOf(orderOf(supplier)) });
      expect(got.json<{ order: Order }>().order.state, got.text).toBe('received');
    }
    const order = orderOf('gorsehill');
    const short = [
      lineFor('gorsehill', 'wire:pvc-vehicle:1mm2:green+brown'),
      lineFor('gorsehill', 'part:switch-dip'),
    ];
    const got = await came(admin, order, {
      lines: [
        ...wholeOf(order, short),
        { line: short[0], notComing: 3250 },
        { line: short[1], notComing: 1 },
      ],
    });
    expect(got.json<{ order: Order }>().order.state, got.text).toBe('received');
    const cost = async (supplier: string) =>
      (await admin.get(`/v1/orders/${orderOf(supplier).id}/cost`)).json<OrderCost>();
    expect(await cost('gorsehill')).toMatchObject({ paid: gbp('26.62'), difference: gbp('-11.40') });
    for (const supplier of ['fairlead', 'pinfold', 'thimblerow'])
      expect(await cost(supplier)).toMatchObject({ difference: gbp('0.00') });
  });

  test('has the rest quoted again without Gorsehill: a hank of Ravelin and a switch of Eddystead', async () => {
    const asked = await admin.post(`/v1/quotes/${quote}/rest`, { shutOut: ['gorsehill'] });
    const { id, task } = asked.json<{ id: string; task: string }>();
    await admin.get(`${task}/events`);
    const result = (await admin.get(`/v1/quotes/${id}/result`)).json<Result>();
    expect(
      result.orderLists.map(({ supplier, goods, postage, total }) => [
        supplier,
        goods.amount,
        postage.amount,
        total.amount,
      ]),
    ).toEqual([
      ['eddystead', '8.00', '5.50', '13.50'],
      ['ravelin', '2.20', '3.10', '5.30'],
    ]);
    expect(result.purchases.map(({ requirement }) => requirement).sort()).toEqual([
      'part:switch-dip',
      'wire:pvc-vehicle:1mm2:green+brown',
    ]);
    expect(result.costs.total).toEqual(gbp('18.80'));
    expect(result.proof.status).toBe('proven');
  });

  test('is cut by its plan out of what came, but for the wire that is still missing', async () => {
    const got = await admin.post(`/v1/quotes/${quote}/cuts`, {});
    expect(got.status, got.text).toBe(201);
    const { items } = (await admin.get(`/v1/quotes/${quote}/cuts`)).json<{
      items: { requirement: string; state: string }[];
    }>();
    expect(items.filter(({ state }) => state !== 'cut').map(({ requirement }) => requirement)).toEqual([
      'wire:pvc-vehicle:1mm2:green+brown',
    ]);
  });
});
