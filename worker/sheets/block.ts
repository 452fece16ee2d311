import type { Label, LabelLayout } from './labels/label.ts';
import type { Picture } from './pictures/picture.ts';

/** A column of a table. */
export interface Column {
  head: string;
  align?: 'left' | 'right';
  /** Takes what width the others leave, and wraps. */
  wraps?: boolean;
  /** A box to tick; its cells are empty. */
  tick?: boolean;
  /** A box so many mm wide to write in, where a cell is empty. */
  writeMm?: number;
  /** A cell that begins with this word stands in a box on a page. */
  boxed?: string;
}

export type Row = readonly string[];

/** Rows that belong together under a heading of their own. */
export interface RowGroup {
  head: string;
  rows: readonly Row[];
}

/** What a sheet is made of, before it is text or a page. Everything in it is plain text. */
export type Block =
  | { form: 'text'; text: string }
  | { form: 'head'; text: string }
  | { form: 'list'; items: readonly string[] }
  | { form: 'table'; columns: readonly Column[]; rows: readonly Row[]; totalled?: boolean }
  | { form: 'groups'; columns: readonly Column[]; groups: readonly RowGroup[] }
  | { form: 'sums'; rows: readonly (readonly [string, string])[] }
  | { form: 'picture'; picture: Picture }
  | { form: 'labels'; labels: readonly Label[]; layout: LabelLayout };

/** A part of a sheet under a title. One without blocks is left out. */
export interface Section {
  title: string;
  blocks: readonly Block[];
  /** It begins on a page of its own. */
  newPage?: boolean;
}

/** A paragraph; of an empty text nothing. */
export function text(words: string): Block[] {
  return words === '' ? [] : [{ form: 'text', text: words }];
}

/** Blocks under a heading; without blocks no heading. */
export function under(heading: string, blocks: readonly Block[]): Block[] {
  return blocks.length === 0 ? [] : [{ form: 'head', text: heading }, ...blocks];
}

export function list(items: readonly string[]): Block[] {
  return items.length === 0 ? [] : [{ form: 'list', items }];
}

export function table(columns: readonly Column[], rows: readonly Row[]): Block[] {
  return rows.length === 0 ? [] : [{ form: 'table', columns, rows }];
}

/** A table whose last row is the total. */
export function totalled(columns: readonly Column[], rows: readonly Row[]): Block[] {
  return [{ form: 'table', columns, rows, totalled: true }];
}

/** One table whose rows stand in groups. */
export function groups(columns: readonly Column[], all: readonly RowGroup[]): Block[] {
  return all.length === 0 ? [] : [{ form: 'groups', columns, groups: all }];
}

/** Names with amounts; the last is the total. */
export function sums(rows: readonly (readonly [string, string])[]): Block[] {
  return rows.length === 0 ? [] : [{ form: 'sums', rows }];
}

/** A drawing. What it says stands in figures beside it, since as text it is nothing. */
export function pictured(picture: Picture | undefined): Block[] {
  return picture === undefined ? [] : [{ form: 'picture', picture }];
}
