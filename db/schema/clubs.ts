import { integer, jsonb, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
import type { Buyer } from '../../worker/engine/model/buyer.ts';
import type { ClubSettings } from '../../worker/engine/model/settings.ts';
import { at, clubId } from './columns.ts';

export const ROLES = ['viewer', 'member', 'editor', 'admin'] as const;
export type Role = (typeof ROLES)[number];

export const clubs = pgTable('clubs', {
  id: uuid('id').primaryKey(),
  name: text('name').notNull().unique(),
  currency: text('currency').notNull(),
  country: text('country'),
  buyer: jsonb('buyer').$type<Buyer>(),
  settings: jsonb('settings').$type<ClubSettings>().notNull(),
  version: integer('version').notNull().default(1),
  createdAt: at('created_at').notNull(),
});

export const keys = pgTable(
  'keys',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    hash: text('hash').notNull().unique(),
    role: text('role').$type<Role>().notNull(),
    label: text('label').notNull(),
    createdAt: at('created_at').notNull(),
    revokedAt: at('revoked_at'),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

export const audit = pgTable(
  'audit',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    at: at('at').notNull(),
    actor: text('actor').notNull(),
    requestId: text('request_id').notNull(),
    action: text('action').notNull(),
    subject: text('subject').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

export const idempotency = pgTable(
  'idempotency',
  {
    clubId: clubId(),
    key: text('key').notNull(),
    route: text('route').notNull(),
    bodyHash: text('body_hash').notNull(),
    status: integer('status').notNull(),
    headers: jsonb('headers').$type<Record<string, string>>().notNull(),
    body: text('body').notNull(),
    createdAt: at('created_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.key] })],
);
