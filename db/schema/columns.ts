import { boolean, customType, integer, jsonb, text, timestamp, uuid } from 'drizzle-orm/pg-core';

/** A code: text that sorts in byte order, as the migrations declare it. */
export const code = customType<{ data: string }>({ dataType: () => 'text COLLATE "C"' });

export const clubId = () => uuid('club_id').notNull();
export const at = (name: string) => timestamp(name, { withTimezone: true, mode: 'date' });

/** Who put something in and who last changed it, as the record has them; null: before members were kept. */
export const authors = () => ({ createdBy: text('created_by'), updatedBy: text('updated_by') });

/** Who sees something: the club, or its owner alone. */
export const SEEN_BY = ['club', 'owner'] as const;
export type SeenBy = (typeof SEEN_BY)[number];

/** Whose something is, nobody's being the club's, and whether nobody else sees it. */
export const owned = () => ({
  ownerId: uuid('owner_id'),
  private: boolean('private').notNull().default(false),
});

/** Whether an editor has confirmed what a member put in. */
export type Standing = 'proposed' | 'confirmed';
export const standing = () => text('standing').$type<Standing>().notNull().default('confirmed');

/** What every entry of the catalogue carries beside its club and code. */
export const entry = <Body>() => ({
  body: jsonb('body').$type<Body>().notNull(),
  version: integer('version').notNull(),
  createdAt: at('created_at').notNull(),
  updatedAt: at('updated_at').notNull(),
  ...authors(),
});
