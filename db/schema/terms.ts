import { sql } from 'drizzle-orm';
import { date, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import type { Lane } from '../../worker/engine/model/lane.ts';
import type { Rate } from '../../worker/engine/model/rate.ts';
import { clubId, code, entry } from './columns.ts';

export const rates = pgTable(
  'rates',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    currency: text('currency').notNull(),
    clubCurrency: text('club_currency')
      .notNull()
      .default(sql`loomwright_club_currency()`),
    day: date('day', { mode: 'string' }).notNull(),
    ...entry<Rate>(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);

export const lanes = pgTable(
  'lanes',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    fromCountry: text('from_country').notNull(),
    toCountry: text('to_country').notNull(),
    ...entry<Lane>(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);
