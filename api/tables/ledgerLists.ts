import { listMovements } from '../../db/movements.ts';
import { listReceipts } from '../../db/receipts.ts';
import { listOrders } from '../../db/orders.ts';
import type { MovementKind } from '../../worker/engine/model/movement.ts';
import type { OrderState } from '../../worker/engine/model/order.ts';
import {
  deliveryTable,
  ledgerTable,
  movementsTable,
  ordersTable,
  receiptsTable,
} from '../../worker/tables/ledgerTables.ts';
import { listedAsCsv } from './ledgerCsv.ts';

interface Format {
  format?: 'json' | 'csv' | 'template' | undefined;
}

interface OrdersAsked extends Format {
  state?: OrderState | undefined;
  supplier?: string | undefined;
  quote?: string | undefined;
}

/** Orders without their lines; `present`: as the list has them. */
export const ordersAsCsv = <Q extends OrdersAsked>(
  present: (row: Awaited<ReturnType<typeof listOrders>>['items'][number]) => object,
) =>
  listedAsCsv<unknown, Q>({
    table: ordersTable,
    page: async (ctx, { query: { state, supplier, quote }, limit, after }) => {
      const page = await listOrders({ ctx, input: { limit, after, state, supplier, quote } });
      return { ...page, items: page.items.map(present) };
    },
  });

/** Each line of each delivery of an order. */
export const receiptsAsCsv = listedAsCsv<{ id: string }, Format>({
  table: receiptsTable,
  template: deliveryTable,
  page: async (ctx, { params }) => ({
    items: (await listReceipts({ ctx, input: params })).flatMap(({ id, body, madeAt }) => {
      const { lines, ...head } = body;
      return lines.map((line) => ({ id, at: madeAt.toISOString(), ...head, ...line }));
    }),
    next: null,
  }),
});

interface MovementsAsked extends Format {
  stock?: string | undefined;
  kind?: MovementKind | undefined;
}

export const movementsAsCsv = listedAsCsv<unknown, MovementsAsked>({
  table: ledgerTable,
  template: movementsTable,
  page: (ctx, { query: { stock, kind }, limit, after }) =>
    listMovements({ ctx, input: { limit, after, stock, kind } }),
});
