import { z } from 'zod';

export type Any = z.core.$ZodType;
export type Def = z.core.$ZodTypes['_zod']['def'];

export const defOf = (schema: Any): Def => schema._zod.def as Def;

interface Meta {
  id?: string;
  description?: string;
  example?: unknown;
}

export const metaOf = (schema: Any): Meta => (z.globalRegistry.get(schema) ?? {}) as Meta;

/** A schema and what it wraps, the outermost first: its words may stand at any of them. */
export function layersOf(schema: Any): Any[] {
  const def = defOf(schema);
  return def.type === 'optional' || def.type === 'default' || def.type === 'nullable'
    ? [schema, ...layersOf(def.innerType)]
    : [schema];
}

/** The schema without what makes it optional. */
export function coreOf(schema: Any): Any {
  return layersOf(schema).at(-1) ?? schema;
}

/** The fields of an object schema, in the order in which they are stated. */
export function fieldsOf(schema: Any): [name: string, field: Any][] {
  const def = defOf(schema);
  return def.type === 'object' ? Object.entries(def.shape) : [];
}

/** The shapes of a union. */
export function shapesOf(schema: Any): readonly Any[] {
  const def = defOf(schema);
  return def.type === 'union' ? def.options : [];
}

/** The field that tells the shapes of a union apart. */
export function tellsApart(schema: Any): string | undefined {
  const def = defOf(schema);
  return def.type === 'union' && 'discriminator' in def ? String(def.discriminator) : undefined;
}

/** The word of the field that tells a shape apart: "wire" of kind. */
export function wordOf(shape: Any, by: string): string {
  const field = fieldsOf(shape).find(([name]) => name === by)?.[1];
  const def = field && defOf(field);
  return def?.type === 'literal' ? String(def.values[0]) : '';
}
