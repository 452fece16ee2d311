import { z } from 'zod';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { HttpProblem } from './problem.ts';

const DEFAULT_PAGE = 50;
const LARGEST_PAGE = 500;

export const PageQuery = z.strictObject({
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .max(LARGEST_PAGE)
    .default(DEFAULT_PAGE)
    .meta({ description: `How many items a page has, at most ${LARGEST_PAGE}.` }),
  cursor: z.string().max(500).optional().meta({
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

/** What the store takes of a page's query. Problem: 422 for a cursor that was not ours. */
export function pageInput(query: PageQuery, named: RegExp = CODE): { limit: number; after?: string } {
  if (query.cursor === undefined) return { limit: query.limit };
  const after = Buffer.from(query.cursor, 'base64url').toString('utf8');
  if (!named.test(after))
    throw new HttpProblem('not-valid', 'The cursor is not from this list. Start without a cursor.', {
      findings: [
        {
          code: 'unknown-cursor',
          severity: 'stop',
          at: '/cursor',
          where: 'query, cursor',
          found: JSON.stringify(query.cursor.slice(0, 80)),
          todo: 'Use the cursor from the page before, or leave it out.',
        },
      ],
    });
  return { limit: query.limit, after };
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
