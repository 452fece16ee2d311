import { z } from 'zod';
import { MOST_FINDINGS } from './mostFindings.ts';

/** Stands for faults that are not gathered; `more`: how many they are, where that is known. */
export function tooManyIssue(more?: number): z.core.$ZodIssueCustom {
  return {
    code: 'custom',
    path: [],
    message: 'there are too many faults to list; fix the ones that are listed and send it again',
    params: { code: TOO_MANY, ...(more === undefined ? {} : { more }) },
    input: undefined,
  };
}

/** Whether an issue stands for faults that are not gathered: how many, or NaN where nobody counted. */
export function notGathered(issue: z.core.$ZodIssue): number | undefined {
  if (issue.code !== 'custom' || issue.params?.['code'] !== TOO_MANY) return undefined;
  const more: unknown = issue.params['more'];
  return typeof more === 'number' ? more : NaN;
}

const TOO_MANY = 'too-many-faults';

/** Says one fault: a fixed word, the path to it, and the sentence that tells how to fix it. */
export type SayFault = (code: string, path: PropertyKey[], message: string) => void;

/** Runs a check that says faults one by one; of many the first are gathered, and how many more there are. */
export function gatherFaults(issues: z.core.$RefinementCtx, check: (fault: SayFault) => void): void {
  let count = 0;
  check((code, path, message) => {
    if (count++ < MOST_FINDINGS) issues.addIssue({ code: 'custom', path, message, params: { code } });
  });
  if (count > MOST_FINDINGS) issues.addIssue({ ...tooManyIssue(count - MOST_FINDINGS) });
}

type Any = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

/** Lists of fewer entries are read at once. */
const SHORT_LIST = 50;

/**
 * The faults of a document's long lists, entry by entry, until they are more than are told: to read all of it first would
 * gather them all, at half a kilobyte each. Undefined where they are not so many: the document is then read as a whole.
 */
export function faultsBeyondTelling(schema: Any, document: unknown): z.core.$ZodIssue[] | undefined {
  const issues: z.core.$ZodIssue[] = [];
  return look(schema, document, [], issues) ? undefined : [...issues.slice(0, MOST_FINDINGS), tooManyIssue()];
}

/** Adds the faults found; false where there are enough of them. */
function look(schema: Any, value: unknown, path: PropertyKey[], issues: z.core.$ZodIssue[]): boolean {
  if (typeof value !== 'object' || value === null) return true;
  const def = schema._zod.def as Def;
  if (def.type === 'optional' || def.type === 'default') return look(def.innerType, value, path, issues);
  if (def.type === 'object')
    return Object.entries(def.shape as Readonly<Record<string, Any>>).every(
      ([name, field]) =>
        !Object.hasOwn(value, name) ||
        look(field, (value as Record<string, unknown>)[name], [...path, name], issues),
    );
  if (def.type !== 'array' || !Array.isArray(value)) return true;
  return value.every((item: unknown, at) => {
    if (!look(def.element, item, [...path, at], issues)) return false;
    if (value.length <= SHORT_LIST) return true;
    const read = z.safeParse(def.element, item);
    if (!read.success)
      for (const issue of read.error.issues) issues.push({ ...issue, path: [...path, at, ...issue.path] });
    return issues.length <= MOST_FINDINGS;
  });
}
