import { boolean, date, integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import type { Offer } from '../../worker/engine/model/offer.ts';
import { at, clubId, code } from './columns.ts';

export const offerPrices = pgTable(
  'offer_prices',
  {
    clubId: clubId(),
    offerCode: code('offer_code').notNull(),
    number: integer('number').notNull(),
    seenFirst: date('seen_first', { mode: 'string' }).notNull(),
    seenLast: date('seen_last', { mode: 'string' }).notNull(),
    seen: boolean('seen').notNull(),
    goneOn: date('gone_on', { mode: 'string' }),
    putInAt: at('put_in_at').notNull(),
    putInBy: text('put_in_by'),
    body: jsonb('body').$type<Offer>().notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.offerCode, t.number] })],
);

export const offerPriceParts = pgTable(
  'offer_price_parts',
  { clubId: clubId(), partCode: code('part_code').notNull(), offerCode: code('offer_code').notNull() },
  (t) => [primaryKey({ columns: [t.clubId, t.partCode, t.offerCode] })],
);
