import { integer, jsonb, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core';
import type { Buyer } from '../../worker/engine/model/buyer.ts';
import type { ClubSettings } from '../../worker/engine/model/settings.ts';
import { at, clubId, code } from './columns.ts';

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

/** A person in a club. One who left stays, so that the record has their name. */
export const members = pgTable(
  'members',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    name: text('name').notNull(),
    email: text('email'),
    note: text('note'),
    role: text('role').$type<Role>().notNull(),
    joinedAt: at('joined_at').notNull(),
    leftAt: at('left_at'),
    version: integer('version').notNull().default(1),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

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
    /** Null: a key of the club's, of no one person. */
    memberId: uuid('member_id'),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

/** A code that lets one person join, once, until a moment. */
export const invitations = pgTable(
  'invitations',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    /** Of the code, which is stored nowhere. */
    hash: text('hash').notNull().unique(),
    role: text('role').$type<Role>().notNull(),
    name: text('name'),
    note: text('note'),
    /** An actor, as the record has them. */
    madeBy: text('made_by').notNull(),
    createdAt: at('created_at').notNull(),
    endsAt: at('ends_at').notNull(),
    /** Withdrawn before it was used. */
    endedAt: at('ended_at'),
    usedAt: at('used_at'),
    /** Who joined by it. */
    memberId: uuid('member_id'),
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
    /** What changed: its kind and name. */
    thing: code('thing').notNull(),
    before: jsonb('before'),
    after: jsonb('after'),
    memberId: uuid('member_id'),
    /** The member who alone sees this row; null: the club does. */
    privateTo: uuid('private_to'),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

export const idempotency = pgTable(
  'idempotency',
  {
    clubId: clubId(),
    /** The member who asked, or else the key. */
    caller: text('caller').notNull().default(''),
    key: text('key').notNull(),
    route: text('route').notNull(),
    bodyHash: text('body_hash').notNull(),
    status: integer('status').notNull(),
    headers: jsonb('headers').$type<Record<string, string>>().notNull(),
    body: text('body').notNull(),
    createdAt: at('created_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.caller, t.key] })],
);
