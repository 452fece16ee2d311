import { z } from 'zod';

/**
 * Reads a document by a schema, as safeParse does. Where there are more faults than the library can gather (it passes
 * them on as arguments of a call), one fault says so.
 */
export function parsed<S extends z.ZodType>(schema: S, document: unknown): z.ZodSafeParseResult<z.output<S>> {
  try {
    return schema.safeParse(document);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return {
      success: false,
      error: new z.ZodError([
        {
          code: 'custom',
          path: [],
          message:
            'there are more faults here than can be told; mend the first things of one kind and send it again',
          params: { code: 'too-many-faults' },
          input: undefined,
        },
      ]) as z.ZodError<z.output<S>>,
    };
  }
}
