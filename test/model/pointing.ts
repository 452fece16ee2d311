/** Changes a JSON document at a pointer (RFC 6901, no escapes needed here). An undefined value takes the field out. */
export function changed<T>(document: T, pointer: string, value: unknown): T {
  const copy = structuredClone(document);
  const keys = pointer.split('/').slice(1);
  const last = keys.pop();
  if (last === undefined) throw new RangeError('a pointer into a document');
  let holder: unknown = copy;
  for (const key of keys) holder = child(holder, key, pointer);
  if (!isHolder(holder)) throw new RangeError(`${pointer} leads nowhere`);
  if (value === undefined) delete holder[last];
  else holder[last] = value;
  return copy;
}

/** Pointers to every object in a document, the document itself as ''. */
export function objectsIn(document: unknown, at = ''): string[] {
  if (!isHolder(document)) return [];
  const below = Object.entries(document).flatMap(([key, value]) => objectsIn(value, `${at}/${key}`));
  return Array.isArray(document) ? below : [at, ...below];
}

type Holder = Record<string, unknown>;
const isHolder = (value: unknown): value is Holder => typeof value === 'object' && value !== null;

function child(holder: unknown, key: string, pointer: string): unknown {
  if (!isHolder(holder) || !(key in holder)) throw new RangeError(`${pointer} leads nowhere at ${key}`);
  return holder[key];
}
