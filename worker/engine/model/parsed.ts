import { z } from 'zod';
import { faultsBeyondTelling, tooManyIssue } from './gathered.ts';
import { expanded, type Expanded, type LongList, type ShortFault } from './short/expand.ts';
import type { ShortContext } from './short/form.ts';

/**
 * Reads a document by a schema, as safeParse does, with short forms ("44/0.30" for a size) in place of long ones. `context`:
 * what stands round the document, such as the club's currency. Of faults beyond counting the first are gathered. `wary`: the
 * document comes from anybody, and may be made of faults: its lists are looked at entry by entry before it is read.
 */
export function parsed<S extends z.ZodType>(
  schema: S,
  document: unknown,
  context: ShortContext = {},
  { wary = false } = {},
): z.ZodSafeParseResult<z.output<S>> {
  return readLong(schema, expanded(schema, document, context), wary);
}

/** The same of a document whose short forms are read. */
export function readLong<S extends z.ZodType>(
  schema: S,
  { document: long, faults, more, tooLong }: Expanded,
  wary: boolean,
): z.ZodSafeParseResult<z.output<S>> {
  const read = safely(schema, long, wary);
  const own = [
    ...tooLong.map(tooLongIssue),
    ...faults.map(shortIssue),
    ...(more > 0 ? [tooManyIssue(more)] : []),
  ];
  if (own.length === 0) return read;
  // What could not be read as a short form is told once: by what its text lacks, not by its type.
  const told = new Set(faults.map(({ path }) => pathKey(path)));
  const others = (read.error?.issues ?? []).filter(
    ({ path }) => !path.some((_, at) => told.has(pathKey(path.slice(0, at + 1)))),
  );
  return failed([...own, ...others]);
}

function safely<S extends z.ZodType>(
  schema: S,
  document: unknown,
  wary: boolean,
): z.ZodSafeParseResult<z.output<S>> {
  const many = wary ? faultsBeyondTelling(schema, document) : undefined;
  if (many) return failed(many);
  try {
    return schema.safeParse(document);
  } catch (error) {
    // The library passes faults on as arguments of a call, and a call takes only so many.
    if (!(error instanceof RangeError)) throw error;
    return failed(faultsBeyondTelling(schema, document) ?? [tooManyIssue()]);
  }
}

const failed = <T>(issues: z.core.$ZodIssue[]): z.ZodSafeParseResult<T> => ({
  success: false,
  error: new z.ZodError(issues) as z.ZodError<T>,
});

function tooLongIssue({ path, most }: LongList): z.core.$ZodIssueTooBig {
  return {
    code: 'too_big',
    origin: 'array',
    maximum: most,
    inclusive: true,
    path,
    message: '',
    input: undefined,
  };
}

function shortIssue({ path, code, todo, readings }: ShortFault): z.core.$ZodIssueCustom {
  return {
    code: 'custom',
    path,
    message: todo,
    params: { code, ...(readings ? { readings } : {}) },
    input: undefined,
  };
}

const pathKey = (path: readonly PropertyKey[]) => JSON.stringify(path.map(String));
