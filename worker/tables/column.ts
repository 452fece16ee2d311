import type { ShortContext, ShortForm } from '../engine/model/short/form.ts';

/** Where a cell's value stands in the document of its row. */
export type Place = readonly string[];

/**
 * What a cell holds. `text` stands as it is; `digits` is a number that the model keeps as text; `word` is one of fixed words,
 * written with spaces; `day` is a calendar day; `form` is something with parts of its own, in its short form or as JSON;
 * `present` says with yes that something is there that need not say more.
 */
export type CellKind = 'text' | 'digits' | 'number' | 'yesNo' | 'word' | 'day' | 'form' | 'present';

export interface Column {
  /** In the user's words, lower case. */
  readonly name: string;
  /** Other spellings that are read. */
  readonly also?: readonly string[];
  readonly kind: CellKind;
  /** By the shape of the row's thing where it differs; `*` is any other shape. */
  readonly at: Place | Readonly<Record<string, Place>>;
  /** May stand after the number. */
  readonly unit?: string;
  /** The column must be there. */
  readonly needed?: true;
  /** One sentence for the template and the docs. */
  readonly says: string;
  /** A cell of it. */
  readonly example?: string;
  /** Words that people use for a word of the model. */
  readonly words?: Readonly<Record<string, string>>;
  /** Of a `form`: fields of it that have columns of their own, and how the short form of the rest is read. */
  readonly parts?: { readonly apart: readonly string[]; readonly short: ShortForm };
  /** A cell that is no plain number is read so: as the whole of which this column is one field. */
  readonly whole?: ShortForm;
  /** By a word of the cell, lower case: what it says of other places of the row. */
  readonly implies?: Readonly<Record<string, { readonly place: Place; readonly value: unknown }>>;
  /** Short forms of a value, the most usual first: the first that is read back as the same is written. */
  readonly short?: (value: never, context: ShortContext) => string | readonly string[];
  /** What stands there where the cell is empty, by what else the row holds; undefined: nothing. */
  readonly otherwise?: (document: Fields) => unknown;
}

export type Fields = Record<string, unknown>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The place of a column in a thing of this shape; undefined where such a thing has none. */
export function placeOf({ at }: Column, shape: string): Place | undefined {
  if (isPlace(at)) return at;
  return at[shape] ?? at['*'];
}

function isPlace(at: Column['at']): at is Place {
  return Array.isArray(at);
}

/** What stands at a place; undefined where nothing does. */
export function valueAt(document: unknown, place: Place): unknown {
  let value = document;
  for (const name of place) {
    if (!isFields(value) || !Object.hasOwn(value, name)) return undefined;
    value = value[name];
  }
  return value;
}

/** Puts a value at a place, making what leads there. What is no object on the way gives way. */
export function put(document: Fields, place: Place, value: unknown): void {
  let inner = document;
  for (const name of place.slice(0, -1)) {
    const next = inner[name];
    inner = isFields(next) ? next : (inner[name] = {});
  }
  inner[place.at(-1) ?? ''] = value;
}

/** Takes away what stands at a place, and what has nothing left in it then. */
export function takeAway(document: Fields, place: Place): void {
  const [name = '', ...rest] = place;
  const inner = document[name];
  if (rest.length === 0) {
    delete document[name];
    return;
  }
  if (!isFields(inner)) return;
  const before = Object.keys(inner).length;
  takeAway(inner, rest);
  if (before > 0 && Object.keys(inner).length === 0) delete document[name];
}
