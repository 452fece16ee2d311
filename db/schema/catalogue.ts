import { sql } from 'drizzle-orm';
import { date, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
import type { Fit, FitRelation } from '../../worker/engine/model/fit.ts';
import type { Offer } from '../../worker/engine/model/offer.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Supplier } from '../../worker/engine/model/supplier.ts';
import { at, clubId, code, entry, standing } from './columns.ts';

export const parts = pgTable(
  'parts',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    ...entry<Part>(),
    standing: standing(),
    mergedInto: code('merged_into'),
    kind: code('kind').generatedAlwaysAs(sql`body ->> 'kind'`),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);

export const suppliers = pgTable(
  'suppliers',
  { clubId: clubId(), code: code('code').notNull(), ...entry<Supplier>() },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);

export const offers = pgTable(
  'offers',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    supplierCode: code('supplier_code').notNull(),
    seenOn: date('seen_on', { mode: 'string' }),
    ...entry<Offer>(),
    standing: standing(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);

export const offerParts = pgTable(
  'offer_parts',
  { clubId: clubId(), offerCode: code('offer_code').notNull(), partCode: code('part_code').notNull() },
  (t) => [primaryKey({ columns: [t.clubId, t.offerCode, t.partCode] })],
);

export const fits = pgTable(
  'fits',
  {
    clubId: clubId(),
    fromPart: code('from_part').notNull(),
    relation: code('relation').$type<FitRelation>().notNull(),
    toPart: code('to_part').notNull(),
    ...entry<Fit>(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.fromPart, t.relation, t.toPart] })],
);

/** What somebody found of a fit. */
export const fitReports = pgTable(
  'fit_reports',
  {
    clubId: clubId(),
    fromPart: code('from_part').notNull(),
    relation: code('relation').$type<FitRelation>().notNull(),
    toPart: code('to_part').notNull(),
    id: uuid('id').notNull(),
    memberId: uuid('member_id'),
    actor: text('actor').notNull(),
    says: text('says').$type<'fits' | 'doesNotFit'>().notNull(),
    vehicle: text('vehicle'),
    loomCode: code('loom_code'),
    note: text('note'),
    photo: text('photo'),
    at: at('at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.fromPart, t.relation, t.toPart, t.id] })],
);

export const stock = pgTable(
  'stock',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    partCode: code('part_code').notNull(),
    ...entry<StockItem>(),
    ownerId: uuid('owner_id'),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);
