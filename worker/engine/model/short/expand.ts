import { z } from 'zod';
import { MOST_FINDINGS } from '../mostFindings.ts';
import { isWrong, scopeOf, shortFormOf, type Fields, type ShortContext, type ShortForm } from './form.ts';
import { entriesOf } from './numbers.ts';

type Any = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

/** A short form that could not be read: where it stands, and what would be right. */
export interface ShortFault {
  path: PropertyKey[];
  code: string;
  todo: string;
  readings?: readonly string[] | undefined;
}

/** A list of more entries than its schema takes: only so many of them are read. */
export interface LongList {
  path: PropertyKey[];
  most: number;
}

export interface Expanded {
  /** The document with long forms in place of short ones; what could not be read stays as it is. */
  document: unknown;
  /** Of many the first, and how many more. */
  faults: ShortFault[];
  more: number;
  tooLong: LongList[];
}

/** What is gathered on the way. */
class Found {
  readonly faults: ShortFault[] = [];
  readonly tooLong: LongList[] = [];
  more = 0;

  fault(fault: ShortFault): void {
    if (this.faults.length < MOST_FINDINGS) this.faults.push(fault);
    else this.more++;
  }

  long(list: LongList): void {
    if (this.tooLong.length < MOST_FINDINGS) this.tooLong.push(list);
    else this.more++;
  }

  add(other: Found): void {
    for (const fault of other.faults) this.fault(fault);
    for (const list of other.tooLong) this.long(list);
    this.more += other.more;
  }
}

/** No document of ours is nested deeper; what lies below is refused by its schema. */
const DEEPEST = 40;

/** In characters: no short form is longer, and no list of words written as one text. Longer texts are left as they are. */
const LONGEST_FORM = 5_000;
const LONGEST_LIST = 40_000;

/**
 * A document with every short form of its schema's read: a text where the schema takes an object or a list, or where it
 * takes other words. What is in long form stays the same object. The one place where short forms are read.
 */
export function expanded(schema: Any, document: unknown, context: ShortContext = {}): Expanded {
  const found = new Found();
  const long = walk(schema, document, context, [], found);
  return { document: long, faults: found.faults, more: found.more, tooLong: found.tooLong };
}

function walk(
  schema: Any,
  value: unknown,
  context: ShortContext,
  path: readonly PropertyKey[],
  found: Found,
): unknown {
  if (path.length > DEEPEST) return value;
  const form = shortFormOf(schema);
  if (form && isText(value) && isShort(value, LONGEST_FORM) && !z.safeParse(schema, value).success)
    return read(form, `${value}`, context, path, found);
  const def = schema._zod.def as Def;
  if (def.type === 'optional' || def.type === 'default')
    return value === undefined ? value : walk(def.innerType, value, context, path, found);
  if (def.type === 'object')
    return isFields(value) ? fields(schema, def.shape, value, context, path, found) : value;
  if (def.type === 'array') {
    if (typeof value === 'string' && isShort(value, LONGEST_LIST) && isOfTexts(def.element))
      return within(schema, listOf(value, context), path, found);
    return Array.isArray(value)
      ? items(schema, def.element, value as unknown[], context, path, found)
      : value;
  }
  if (def.type === 'union') return ofUnion(schema, def, value, context, path, found);
  return value;
}

function read(
  form: ShortForm,
  text: string,
  context: ShortContext,
  path: readonly PropertyKey[],
  found: Found,
): unknown {
  const reading = form.read(text, context);
  if (!isWrong(reading)) return reading.value;
  const { code, todo, readings } = reading;
  found.fault({ path: [...path], code, todo, readings });
  return text;
}

function fields(
  schema: Any,
  shape: Readonly<Record<string, Any>>,
  given: Fields,
  around: ShortContext,
  path: readonly PropertyKey[],
  found: Found,
): Fields {
  const own = scopeOf(schema);
  const { value, context } = own?.scope(given, around) ?? { value: given, context: around };
  let copy = value;
  for (const [name, field] of Object.entries(shape)) {
    if (!Object.hasOwn(value, name)) continue;
    const inner = value[name];
    const long = walk(field, inner, context, [...path, name], found);
    if (long === inner) continue;
    if (copy === value) copy = { ...value };
    copy[name] = long;
  }
  return own?.after?.(copy, context) ?? copy;
}

function items(
  schema: Any,
  element: Any,
  whole: readonly unknown[],
  context: ShortContext,
  path: readonly PropertyKey[],
  found: Found,
): readonly unknown[] {
  const list = within(schema, whole, path, found);
  let copy: unknown[] | undefined;
  list.forEach((item, index) => {
    const long = walk(element, item, context, [...path, index], found);
    if (long === item) return;
    copy ??= [...list];
    copy[index] = long;
  });
  return copy ?? list;
}

/** A list without the entries that its schema has no place for: they are not worth a look each. */
function within<T>(
  schema: Any,
  list: readonly T[],
  path: readonly PropertyKey[],
  found: Found,
): readonly T[] {
  const most = mostOf(schema);
  if (list.length <= most) return list;
  found.long({ path: [...path], most });
  return list.slice(0, most);
}

function mostOf(schema: Any): number {
  const checks = (schema._zod.def as Def).checks ?? [];
  return checks.reduce((most, { _zod: { def } }) => {
    const own = def as Partial<z.core.$ZodCheckMaxLengthDef>;
    return own.check === 'max_length' ? Math.min(most, own.maximum ?? most) : most;
  }, Infinity);
}

/** Of a union told apart by a field, the option that the value states; of another, each until one changes it. */
function ofUnion(
  schema: Any,
  def: Extract<Def, { type: 'union' }>,
  given: unknown,
  around: ShortContext,
  path: readonly PropertyKey[],
  found: Found,
): unknown {
  if (!isFields(given) && !isText(given)) return given;
  const scoped = isFields(given) ? scopeOf(schema)?.scope(given, around) : undefined;
  const value = scoped?.value ?? given;
  const context = scoped?.context ?? around;
  const by = 'discriminator' in def ? String(def.discriminator) : undefined;
  for (const option of def.options) {
    if (by !== undefined && !(isFields(value) && states(option, by, value[by]))) continue;
    const own = new Found();
    const long = walk(option, value, context, path, own);
    if (by === undefined && long === value && own.faults.length === 0) continue;
    found.add(own);
    return long;
  }
  return value;
}

function states(option: Any, by: string, stated: unknown): boolean {
  const def = option._zod.def as Def;
  const field = def.type === 'object' ? (def.shape[by] as Any | undefined) : undefined;
  return field !== undefined && z.safeParse(field, stated).success;
}

const isShort = (value: string | number, most: number) => typeof value === 'number' || value.length <= most;

const isText = (value: unknown): value is string | number =>
  typeof value === 'string' || typeof value === 'number';

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A list of words may be written as one text: "B1, B2"; also where an entry may be more than a word. */
function isOfTexts(element: Any): boolean {
  const def = element._zod.def as Def;
  if (def.type === 'union' && !('discriminator' in def)) return def.options.some(isOfTexts);
  return def.type === 'string' || def.type === 'enum';
}

function listOf(text: string, context: ShortContext): string[] {
  return text.trim() === '' ? [] : entriesOf(text, context);
}
