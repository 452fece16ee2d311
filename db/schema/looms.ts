import { integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import type { LoomRevision } from '../../worker/engine/model/loom.ts';
import { at, authors, clubId, code, owned } from './columns.ts';

export const looms = pgTable(
  'looms',
  {
    clubId: clubId(),
    code: code('code').notNull(),
    latestRevision: integer('latest_revision').notNull(),
    ...owned(),
    ...authors(),
    createdAt: at('created_at').notNull(),
    updatedAt: at('updated_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.code] })],
);

export const loomRevisions = pgTable(
  'loom_revisions',
  {
    clubId: clubId(),
    loomCode: code('loom_code').notNull(),
    revision: integer('revision').notNull(),
    body: jsonb('body').$type<LoomRevision>().notNull(),
    createdAt: at('created_at').notNull(),
    createdBy: text('created_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.loomCode, t.revision] })],
);

export const loomParts = pgTable(
  'loom_parts',
  {
    clubId: clubId(),
    loomCode: code('loom_code').notNull(),
    revision: integer('revision').notNull(),
    partCode: code('part_code').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.loomCode, t.revision, t.partCode] })],
);
