import { date, integer, jsonb, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
import type { MovementBody, MovementKind } from '../../worker/engine/model/movement.ts';
import { at, clubId, code } from './columns.ts';

export const stockMovements = pgTable(
  'stock_movements',
  {
    clubId: clubId(),
    stockCode: code('stock_code').notNull(),
    number: integer('number').notNull(),
    id: uuid('id').notNull(),
    kind: text('kind').$type<MovementKind>().notNull(),
    change: integer('change').notNull(),
    balance: integer('balance').notNull(),
    movedAt: at('moved_at').notNull(),
    movedBy: text('moved_by').notNull(),
    body: jsonb('body').$type<MovementBody>().notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.stockCode, t.number] })],
);

/** What is kept of stock items for accepted quotes. */
export const reservations = pgTable(
  'reservations',
  {
    clubId: clubId(),
    stockCode: code('stock_code').notNull(),
    quoteId: uuid('quote_id').notNull(),
    id: uuid('id').notNull(),
    count: integer('count').notNull(),
    until: date('until', { mode: 'string' }),
    madeAt: at('made_at').notNull(),
    madeBy: text('made_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.stockCode, t.quoteId] })],
);
