import { sql } from 'drizzle-orm';
import { pgTable, primaryKey } from 'drizzle-orm/pg-core';
import type { Fit, FitRelation } from '../../worker/engine/model/fit.ts';
import type { Offer } from '../../worker/engine/model/offer.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Supplier } from '../../worker/engine/model/supplier.ts';
import { clubId, code, entry } from './columns.ts';

export const parts = pgTable(
  'parts',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    ...entry<Part>(),
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
    ...entry<Offer>(),
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

export const stock = pgTable(
  'stock',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    partCode: code('part_code').notNull(),
    ...entry<StockItem>(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);
