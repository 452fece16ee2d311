import fc from 'fast-check';
import type { z } from 'zod';

type Def = z.core.$ZodTypes['_zod']['def'];

/**
 * Values of a schema's shape, its fields present or not, without regard to what refinements ask: enough to see which
 * fields are stated. Strings and numbers are few, so that they meet defaults as well as miss them.
 */
export function arbitraryOf(schema: z.core.$ZodType): fc.Arbitrary<unknown> {
  const def = schema._zod.def as Def;
  switch (def.type as string) {
    case 'string':
      return fc.constantFrom('a', 'b');
    case 'number':
      return fc.constantFrom(0, 1, 12, 1000);
    case 'boolean':
      return fc.boolean();
    default:
  }
  if (def.type === 'enum') return fc.constantFrom(...Object.values(def.entries));
  if (def.type === 'literal') return fc.constantFrom(...def.values);
  if (def.type === 'optional') return fc.option(arbitraryOf(def.innerType), { nil: undefined });
  if (def.type === 'default')
    return fc.oneof(fc.constant(structuredClone(def.defaultValue)), arbitraryOf(def.innerType));
  if (def.type === 'array') return fc.array(arbitraryOf(def.element), { maxLength: 3 });
  if (def.type === 'union') return fc.oneof(...def.options.map((option) => arbitraryOf(option)));
  if (def.type === 'object')
    return fc
      .record(Object.fromEntries(Object.entries(def.shape).map(([key, inner]) => [key, arbitraryOf(inner)])))
      .map((value) => Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)));
  throw new Error(`no values for ${def.type}`);
}
