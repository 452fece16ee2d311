import { integer, jsonb, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
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
