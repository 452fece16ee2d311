import { coreOf, defOf, fieldsOf, shapesOf, tellsApart, wordOf, type Any } from './schema.ts';

/** Longer ones make a table hard to read. */
const LONGEST = 90;

/** The first short value of each field that the documents of the examples state, by its schema and name. */
export class Samples {
  readonly #found = new Map<Any, Map<string, string>>();

  /** Reads a document of this schema. */
  read(schema: Any, document: unknown): void {
    const core = coreOf(schema);
    const def = defOf(core);
    if (def.type === 'array' && Array.isArray(document))
      for (const item of document) this.read(def.element, item);
    if (typeof document !== 'object' || document === null) return;
    const values = document as Record<string, unknown>;
    if (def.type === 'object') this.#readFields(core, values);
    if (def.type !== 'union') return;
    const by = tellsApart(core);
    for (const shape of shapesOf(core))
      if (by === undefined ? hasOnly(shape, values) : wordOf(shape, by) === values[by])
        this.read(shape, values);
  }

  /** A field's value as it is written; undefined where no document states one. */
  of(object: Any, field: string): string | undefined {
    return this.#found.get(object)?.get(field);
  }

  #readFields(object: Any, values: Record<string, unknown>): void {
    const found = this.#found.get(object) ?? new Map<string, string>();
    this.#found.set(object, found);
    for (const [name, field] of fieldsOf(object)) {
      const value = values[name];
      if (value === undefined) continue;
      const text = JSON.stringify(value);
      if (!found.has(name) && text.length <= LONGEST) found.set(name, text);
      this.read(field, value);
    }
  }
}

function hasOnly(shape: Any, values: Record<string, unknown>): boolean {
  const names = fieldsOf(shape).map(([name]) => name);
  return Object.keys(values).every((name) => names.includes(name));
}
