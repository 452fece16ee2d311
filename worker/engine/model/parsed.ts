import { z } from 'zod';
import { expanded, type ShortFault } from './short/expand.ts';
import type { ShortContext } from './short/form.ts';

/**
 * Reads a document by a schema, as safeParse does, with short forms ("44/0.30" for a size) in place of long ones. `context`:
 * what stands round the document, such as the club's currency. Where there are more faults than the library can gather (it
 * passes them on as arguments of a call), one fault says so.
 */
export function parsed<S extends z.ZodType>(
  schema: S,
  document: unknown,
  context: ShortContext = {},
): z.ZodSafeParseResult<z.output<S>> {
  const { document: long, faults } = expanded(schema, document, context);
  try {
    const read = schema.safeParse(long);
    return faults.length === 0 ? read : withShortFaults(read, faults);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return {
      success: false,
      error: new z.ZodError([
        {
          code: 'custom',
          path: [],
          message: 'there are too many faults to list; fix the ones that are listed and send it again',
          params: { code: 'too-many-faults' },
          input: undefined,
        },
      ]) as z.ZodError<z.output<S>>,
    };
  }
}

/** What could not be read as a short form is told once: by what its text lacks, not by its type. */
function withShortFaults<T>(
  read: z.ZodSafeParseResult<T>,
  faults: readonly ShortFault[],
): z.ZodSafeParseResult<T> {
  const told = new Set(faults.map(({ path }) => pathKey(path)));
  const others = (read.error?.issues ?? []).filter(
    ({ path }) => !path.some((_, at) => told.has(pathKey(path.slice(0, at + 1)))),
  );
  const own = faults.map(({ path, code, todo, readings }): z.core.$ZodIssueCustom => ({
    code: 'custom',
    path,
    message: todo,
    params: { code, ...(readings ? { readings } : {}) },
    input: undefined,
  }));
  return { success: false, error: new z.ZodError([...own, ...others]) as z.ZodError<T> };
}

const pathKey = (path: readonly PropertyKey[]) => JSON.stringify(path.map(String));
