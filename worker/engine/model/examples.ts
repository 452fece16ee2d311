import { z } from 'zod';

type Any = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

/** Longer ones explain nothing in a sentence. */
const LONGEST = 300;
/** What a number may be where the schema gives no example: the first that it takes. */
const NUMBERS = [1, 10, 100, 1000, 0.1];

/** An example of what a schema takes, as JSON: that of its meta, else put together from those of its fields. */
export function exampleText(schema: Any): string | undefined {
  const text = JSON.stringify(exampleOf(schema)) as string | undefined;
  return text === undefined || text.length > LONGEST ? undefined : text;
}

/** Undefined where a schema gives no example and none can be put together. */
export function exampleOf(schema: Any): unknown {
  const { example } = z.globalRegistry.get(schema) ?? {};
  if (example !== undefined) return example;
  const def = schema._zod.def as Def;
  if (def.type === 'optional' || def.type === 'default') return exampleOf(def.innerType);
  if (def.type === 'object') return objectOf(def.shape);
  if (def.type === 'array') {
    const item = exampleOf(def.element);
    return item === undefined ? undefined : [item];
  }
  if (def.type === 'union') return def.options.map(exampleOf).find((each) => each !== undefined);
  if (def.type === 'enum') return Object.values(def.entries)[0];
  if (def.type === 'literal') return def.values[0];
  if (def.type === 'boolean') return true;
  if (def.type === 'number') return NUMBERS.find((value) => z.safeParse(schema, value).success);
  return undefined;
}

/** The fields that must be there. */
function objectOf(shape: Readonly<Record<string, Any>>): unknown {
  const fields = Object.entries(shape)
    .filter(([, field]) => !['optional', 'default'].includes(field._zod.def.type))
    .map(([name, field]) => [name, exampleOf(field)] as const);
  return fields.some(([, value]) => value === undefined) ? undefined : Object.fromEntries(fields);
}

/** The schema of what stands at a path in a document; undefined where the schema has no such place. */
export function schemaAt(schema: Any, path: readonly PropertyKey[], document: unknown): Any | undefined {
  const [key, ...rest] = path;
  if (key === undefined) return schema;
  const inner =
    typeof document === 'object' && document !== null
      ? (document as Record<PropertyKey, unknown>)[key]
      : undefined;
  const def = schema._zod.def as Def;
  if (def.type === 'optional' || def.type === 'default') return schemaAt(def.innerType, path, document);
  if (def.type === 'array') return schemaAt(def.element, rest, inner);
  if (def.type === 'object') {
    const field = (def.shape as Readonly<Record<PropertyKey, Any | undefined>>)[key];
    return field && schemaAt(field, rest, inner);
  }
  if (def.type !== 'union') return undefined;
  const by = 'discriminator' in def ? String(def.discriminator) : undefined;
  for (const option of def.options) {
    const found =
      by === undefined || isOfShape(option, by, document) ? schemaAt(option, path, document) : undefined;
    if (found) return found;
  }
  return undefined;
}

/** Whether a document states the shape of this option of a union. */
function isOfShape(option: Any, by: string, document: unknown): boolean {
  const def = option._zod.def as Def;
  const field = def.type === 'object' ? (def.shape[by] as Any | undefined) : undefined;
  return field !== undefined && z.safeParse(field, (document as Record<string, unknown>)[by]).success;
}
