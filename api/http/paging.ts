import { z } from 'zod';
import { placeIn } from '../../db/sorting.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { HttpProblem } from './problem.ts';

const DEFAULT_PAGE = 50;
const LARGEST_PAGE = 500;
/** The longest name of a part that a list is sorted by, and its code, by far. */
const LONGEST_CURSOR = 2_000;

export const PageQuery = z.strictObject({
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .max(LARGEST_PAGE)
    .default(DEFAULT_PAGE)
    .meta({ description: `How many items a page has, at most ${LARGEST_PAGE}.` }),
  cursor: z.string().max(LONGEST_CURSOR).optional().meta({
    description: 'Where the page starts: the value of `next`, or of the Link header, of the page before.',
  }),
});
/** What a list is paged by: codes, or the ids that we made. */
export const CODE_FORM = `[A-Za-z0-9][A-Za-z0-9._-]{0,${LIMITS.codeLength - 1}}`;
const CODE = new RegExp(`^${CODE_FORM}$`);
export const MADE_ID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

export type PageQuery = z.infer<typeof PageQuery>;

/** A list's answer: the items, and the cursor of the next page or null. */
export const pageSchema = <S extends z.ZodType>(item: S, id: string) =>
  z.strictObject({ items: z.array(item), next: z.union([z.string(), z.null()]) }).meta({ id });

const WORDS_OF_SORTS: Readonly<Record<string, string>> = {
  code: 'code: by code, or by the parts of a fit',
  newest: 'newest: the newest first',
  updated: 'updated: the newest change first',
  name: 'name: by what the part is called',
  seen: 'seen: offers first that state no day, then those that were not seen for longest',
};
/** Orders by the names of things alone. */
const BY_NAME = ['code', 'newest'];

/** What else a list takes that can be sorted in these ways, of which the first is the usual one. */
export const sortQuery = (sorts: readonly string[]) => ({
  sort: z
    .enum(sorts)
    .optional()
    .meta({
      description: `The order. ${sorts.map((sort) => WORDS_OF_SORTS[sort] ?? sort).join('; ')}. Left out: ${sorts[0] ?? ''}.`,
    }),
});

/** What the store takes of a page's query. Problem: 422 for a cursor that was not ours, or is of another order. */
export function pageInput(
  query: PageQuery & { sort?: string | undefined },
  named: RegExp = CODE,
): { limit: number; sort?: string | undefined; after?: string } {
  const { limit, sort, cursor } = query;
  if (cursor === undefined) return { limit, sort };
  const after = Buffer.from(cursor, 'base64url').toString('utf8');
  // Of a list that has no orders the names may look like anything.
  const place = named.test(after) ? { sort: undefined, name: after } : placeIn(after);
  if (!place || !named.test(place.name))
    throw badCursor(
      cursor,
      'unknown-cursor',
      'The cursor is not from this list. Start without a cursor.',
      'Use the cursor from the page before, or leave it out.',
    );
  if (place.sort !== (sort === undefined || BY_NAME.includes(sort) ? undefined : sort))
    throw badCursor(
      cursor,
      'cursor-of-another-order',
      'The cursor is from a list in another order. Start without a cursor, or ask for the order that the page before had.',
      `Leave the cursor out, or ${place.sort === undefined ? 'leave sort out' : `ask for sort=${place.sort}`}.`,
    );
  return { limit, sort, after };
}

function badCursor(cursor: string, code: string, detail: string, todo: string): HttpProblem {
  const found = JSON.stringify(cursor.slice(0, 80));
  return new HttpProblem('not-valid', detail, {
    findings: [{ code, severity: 'stop', at: '/cursor', where: 'query, cursor', found, todo }],
  });
}

/** Body and Link header of a page; what else the query asked for is asked for again by the link. */
export function pageReply<T, U>(
  page: { items: T[]; next: string | null },
  present: (item: T) => U,
  path: string,
  query: PageQuery & Record<string, string | number | undefined>,
) {
  const next = page.next === null ? null : Buffer.from(page.next, 'utf8').toString('base64url');
  const headers: Record<string, string> = {};
  if (next !== null) {
    const { limit, cursor: _here, ...rest } = query;
    const asked = Object.entries({ limit, ...rest, cursor: next }).flatMap(([name, value]) =>
      value === undefined ? [] : [`${name}=${encodeURIComponent(value)}`],
    );
    headers['link'] = `<${path}?${asked.join('&')}>; rel="next"`;
  }
  return { status: 200 as const, headers, body: { items: page.items.map(present), next } };
}
