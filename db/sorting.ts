import { sql, type SQL } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';
import { Day } from '../worker/engine/model/code.ts';

/** The orders of lists, and where a page of each starts. All go from the smallest to the greatest, things alike by their names. */

/** What a list is sorted by before the names of its things. */
export interface Sort {
  /** Never null. */
  key: SQL;
  /** The key as a cursor has it. */
  told: SQL<string>;
  /** The key that a cursor tells. */
  read: (told: string) => SQL;
}

/** By name; undefined: by the names of things alone. */
export type Sorts = Readonly<Record<string, Sort | undefined>>;

/** Where a page ended. */
export interface Place {
  /** undefined: of a list by names alone. */
  sort: string | undefined;
  /** The name of the last thing: its code, its id, or what it is between, with slashes. */
  name: string;
  told: string;
}

/** The newest change first. The key is the time that is left until a day far away, so that things changed at once come by name. */
export function newestChange(at: SQL | PgColumn): Sort {
  const key = (moment: SQL | PgColumn) => sql`(timestamptz '3000-01-01 00:00:00+00' - ${moment})`;
  return {
    key: key(at),
    told: sql<string>`to_char(${at} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US')`,
    read: (told) => key(sql`(${`${told}+00`}::text)::timestamptz`),
  };
}

/** By words: capitals of A to Z count as small letters, all else goes by its bytes. */
export function byWords(words: SQL): Sort {
  const key = sql`lower(${words} collate "C")`;
  return { key, told: sql<string>`${key}`, read: (told) => sql`${told}::text` };
}

/** By a day. */
export function byDay(day: SQL): Sort {
  return {
    key: day,
    told: sql<string>`to_char(${day}, 'YYYY-MM-DD')`,
    read: (told) => sql`(${told}::text)::date`,
  };
}

const isMoment = (text: string) =>
  /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}$/.test(text) &&
  Day.safeParse(text.slice(0, 10)).success &&
  !Number.isNaN(Date.parse(`${text.slice(0, -3)}Z`));

/** What a cursor tells of the key, by the sort. */
const TOLD = new Map<string, (text: string) => boolean>([
  ['updated', isMoment],
  ['name', (text) => !text.includes('\0')],
  ['seen', (text) => Day.safeParse(text).success],
]);

/** What a cursor of any sort says; undefined where no list gave it. */
export function placeIn(text: string): Place | undefined {
  const [, sort, name = '', told = ''] = /^([a-z]+) (\S+) (.*)$/s.exec(text) ?? [];
  if (sort === undefined) return { sort: undefined, name: text, told: '' };
  return TOLD.get(sort)?.(told) ? { sort, name, told } : undefined;
}

/** The parts of a statement that read a list in order, from where the page before ended. `names`: the columns that name a thing. */
export function inOrder(
  sorts: Sorts,
  names: readonly PgColumn[],
  { sort: asked, after }: { sort?: string | undefined; after?: string | undefined },
) {
  const sort = asked === undefined ? undefined : sorts[asked];
  const keys = sort ? [sort.key, ...names] : names;
  const place = after === undefined ? undefined : placeIn(after);
  const ended = place && [
    ...(sort ? [sort.read(place.told)] : []),
    ...place.name.split('/').map((name) => sql`${name}`),
  ];
  return {
    beyond: ended && sql`(${sql.join([...keys], sql`, `)}) > (${sql.join(ended, sql`, `)})`,
    order: keys.map((key) => sql`${key}`),
    told: sort?.told ?? sql<string>`''`,
    placeOf: (name: string, told: string) => (sort ? `${asked} ${name} ${told}` : name),
  };
}
