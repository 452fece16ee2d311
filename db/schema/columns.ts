import { customType, integer, jsonb, timestamp, uuid } from 'drizzle-orm/pg-core';

/** A code: text that sorts in byte order, as the migrations declare it. */
export const code = customType<{ data: string }>({ dataType: () => 'text COLLATE "C"' });

export const clubId = () => uuid('club_id').notNull();
export const at = (name: string) => timestamp(name, { withTimezone: true, mode: 'date' });

/** What every entry of the catalogue carries beside its club and code. */
export const entry = <Body>() => ({
  body: jsonb('body').$type<Body>().notNull(),
  version: integer('version').notNull(),
  createdAt: at('created_at').notNull(),
  updatedAt: at('updated_at').notNull(),
});
