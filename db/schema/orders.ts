import { date, integer, jsonb, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
import type { OrderEntry } from '../../worker/engine/model/orderEntry.ts';
import type { OrderGoods, OrderState, ReceiptIn } from '../../worker/engine/model/order.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import { at, clubId, code } from './columns.ts';

export const orders = pgTable(
  'orders',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    number: integer('number').notNull(),
    quoteId: uuid('quote_id').notNull(),
    supplierCode: code('supplier_code').notNull(),
    wave: integer('wave').notNull(),
    state: text('state').$type<OrderState>().notNull(),
    asOf: date('as_of', { mode: 'string' }).notNull(),
    list: jsonb('list').$type<OrderList>().notNull(),
    goods: jsonb('goods').$type<OrderGoods[]>().notNull(),
    supplierNumber: text('supplier_number'),
    note: text('note'),
    version: integer('version').notNull(),
    createdAt: at('created_at').notNull(),
    createdBy: text('created_by').notNull(),
    updatedAt: at('updated_at').notNull(),
    updatedBy: text('updated_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

/** The states that an order went through. */
export const orderSteps = pgTable(
  'order_steps',
  {
    clubId: clubId(),
    orderId: uuid('order_id').notNull(),
    number: integer('number').notNull(),
    state: text('state').$type<OrderState>().notNull(),
    note: text('note'),
    madeAt: at('made_at').notNull(),
    madeBy: text('made_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.orderId, t.number] })],
);

/** What came with one delivery. */
export const receipts = pgTable(
  'receipts',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    orderId: uuid('order_id').notNull(),
    number: text('number'),
    body: jsonb('body').$type<ReceiptIn & { day: string }>().notNull(),
    madeAt: at('made_at').notNull(),
    madeBy: text('made_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

/** What goes back, what is refunded and what was charged. */
export const orderEntries = pgTable(
  'order_entries',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    orderId: uuid('order_id').notNull(),
    kind: text('kind').$type<OrderEntry['kind']>().notNull(),
    body: jsonb('body').$type<OrderEntry>().notNull(),
    madeAt: at('made_at').notNull(),
    madeBy: text('made_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);
