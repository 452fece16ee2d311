import { integer, jsonb, pgTable, primaryKey, smallint, text } from 'drizzle-orm/pg-core';
import type { Field } from '../search/words.ts';
import { at, clubId, code } from './columns.ts';

const thing = () => code('thing').$type<'part' | 'offer'>().notNull();

export const searchWords = pgTable(
  'search_words',
  {
    clubId: clubId(),
    thing: thing(),
    code: code('code').notNull(),
    word: code('word').notNull(),
    field: code('field').$type<Field>().notNull(),
    weight: smallint('weight').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.thing, t.code, t.word] })],
);

export const searchPieces = pgTable(
  'search_pieces',
  {
    clubId: clubId(),
    how: code('how').$type<'end' | 'slip'>().notNull(),
    piece: code('piece').notNull(),
    word: code('word').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.how, t.piece, t.word] })],
);

export const searchThings = pgTable(
  'search_things',
  {
    clubId: clubId(),
    thing: thing(),
    code: code('code').notNull(),
    kind: code('kind'),
    size: code('size'),
    colour: code('colour'),
    supplier: code('supplier'),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.thing, t.code] })],
);

export const partNumbers = pgTable(
  'part_numbers',
  {
    clubId: clubId(),
    partCode: code('part_code').notNull(),
    whose: text('whose').notNull(),
    number: text('number').notNull(),
    whoseFolded: code('whose_folded').notNull(),
    folded: code('folded').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.partCode, t.whoseFolded, t.folded] })],
);

export const synonyms = pgTable('synonyms', {
  clubId: clubId().primaryKey(),
  groups: jsonb('groups').$type<string[][]>().notNull(),
  version: integer('version').notNull(),
  updatedAt: at('updated_at').notNull(),
  updatedBy: text('updated_by'),
});

export const searchMarks = pgTable(
  'search_marks',
  { clubId: clubId(), thing: thing(), afterCode: code('after_code').notNull() },
  (t) => [primaryKey({ columns: [t.clubId, t.thing] })],
);
