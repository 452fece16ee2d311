import type { z } from 'zod';

/** A schema as a tree of what may stand where: the shapes of zod that our model uses, and no others. */
export type SchemaTree =
  | { type: 'leaf' }
  | { type: 'object'; fields: Map<string, Field> }
  | { type: 'list'; item: SchemaTree }
  /** One of several shapes: told apart by a field's value, or only by what fits. */
  | { type: 'oneOf'; by: string | undefined; shapes: Map<string, SchemaTree> };

export interface Field {
  tree: SchemaTree;
  /** What the schema fills in where nothing is stated. */
  fallback: unknown;
}

const LEAVES = ['string', 'number', 'int', 'boolean', 'enum', 'literal'];

type Any = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

/** Throws Error at a shape that it does not know, so that none is passed over. */
export function schemaTree(schema: Any): SchemaTree {
  const def = schema._zod.def as Def;
  if (def.type === 'object')
    return {
      type: 'object',
      fields: new Map(Object.entries(def.shape).map(([name, inner]) => [name, fieldOf(inner)])),
    };
  if (def.type === 'array') return { type: 'list', item: schemaTree(def.element) };
  if (def.type === 'optional' || def.type === 'default') return schemaTree(def.innerType);
  if (def.type === 'union') {
    const by = 'discriminator' in def ? String(def.discriminator) : undefined;
    const shapes = def.options.map((option, index): [string, SchemaTree] => [
      by === undefined ? `${index + 1}` : discriminatorOf(option, by),
      schemaTree(option),
    ]);
    return { type: 'oneOf', by, shapes: new Map(shapes) };
  }
  if (LEAVES.includes(def.type)) return { type: 'leaf' };
  throw new Error(`the model uses ${def.type}, of which the list of used fields knows nothing`);
}

function fieldOf(schema: Any): Field {
  const def = schema._zod.def as Def;
  return { tree: schemaTree(schema), fallback: def.type === 'default' ? def.defaultValue : undefined };
}

function discriminatorOf(option: Any, by: string): string {
  const def = option._zod.def as Def;
  const literal = def.type === 'object' ? (def.shape[by]?._zod.def as Def | undefined) : undefined;
  if (literal?.type !== 'literal') throw new Error(`a shape told apart by ${by} does not state it`);
  return String(literal.values[0]);
}
