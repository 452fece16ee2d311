import type { z } from 'zod';
import type { ColourSystem } from '../colour.ts';

/** What stands round a short form and settles what it leaves open. */
export interface ShortContext {
  /** The currency of amounts that name none (ISO 4217). */
  currency?: string | undefined;
  /** The system that letters of colours are in. */
  colourSystem?: z.infer<typeof ColourSystem> | undefined;
  /** True: 3,95 is three and 95 hundredths, and lists are parted by semicolons. */
  decimalComma?: boolean | undefined;
  /** The ids of the loom's points, so that "a.b.2" is told from point "a" way "b.2". */
  points?: ReadonlySet<string> | undefined;
  /** The cable type of wires that state none. */
  cableType?: string | undefined;
  /** The currency of a list of offers, before that of each supplier. */
  offerCurrency?: string | undefined;
  /** The currency in which a supplier sells. */
  currencyOf?: ((supplier: string) => string | undefined) | undefined;
  /** The wire part that an offer of "14/0.30 GW" sells; it comes into being where there is none. */
  wirePart?: ((text: string, context: ShortContext) => Reading) | undefined;
  /** The parts that came into being so. */
  made?: (() => readonly { code: string }[]) | undefined;
}

/** The long form of a short one; or why there is none, in words that show what would be right. */
export type Reading =
  | { value: unknown }
  | { code: 'two-readings' | 'wrong-form' | 'not-one-of'; todo: string; readings?: readonly string[] };

/** A short form of a schema: a text, or a number, in place of the long object. */
export interface ShortForm {
  /** Texts that are right. */
  examples: readonly string[];
  read(text: string, context: ShortContext): Reading;
}

/** The short forms of the model's schemas. */
const FORMS = new WeakMap<z.core.$ZodType, ShortForm>();

/** Gives a schema a short form; the schema itself is unchanged. */
export function withShort<S extends z.ZodType>(schema: S, form: ShortForm): S {
  FORMS.set(schema, form);
  return schema;
}

/** The short form of a schema, where it has one. */
export function shortFormOf(schema: z.core.$ZodType): ShortForm | undefined {
  return FORMS.get(schema);
}

export type Fields = Record<string, unknown>;

/**
 * What a schema's own value adds to the context for all that is inside it, and what it fills in of itself. `value` is a
 * copy where anything was filled in.
 */
export type Scope = (value: Fields, context: ShortContext) => { value: Fields; context: ShortContext };

/** What is done to a value once all that is inside it is in long form. */
export type After = (value: Fields, context: ShortContext) => Fields;

const SCOPES = new WeakMap<z.core.$ZodType, { scope: Scope; after?: After | undefined }>();

export function withScope<S extends z.ZodType>(schema: S, scope: Scope, after?: After): S {
  SCOPES.set(schema, { scope, after });
  return schema;
}

export function scopeOf(schema: z.core.$ZodType): { scope: Scope; after?: After | undefined } | undefined {
  return SCOPES.get(schema);
}

export const wrong = (todo: string): Reading => ({ code: 'wrong-form', todo });

/** A text that can be read in several ways: "1,5 is either "1.5" or "1500"; write the one that is meant". */
export function several(text: string, readings: readonly string[]): Reading {
  const all = readings.map((each) => `"${each}"`);
  const [only] = all;
  if (only !== undefined && all.length === 1) return wrong(`Write ${only}`);
  return {
    code: 'two-readings',
    readings,
    todo: `"${text}" can be read as ${all.slice(0, -1).join(', ')} or ${all.at(-1) ?? ''}. Write the one that you mean`,
  };
}

export const isWrong = (reading: Reading): reading is Exclude<Reading, { value: unknown }> =>
  'code' in reading;
