import { and, eq, inArray } from 'drizzle-orm';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { dropPartWords, keepNumbers, keepPartWords } from './search/keep.ts';
import { fits, loomParts, offerParts, parts as table, stock } from './schema/index.ts';

const FIT_NAMES_IT =
  'A fit names this part. Remove the fit first. To find it, list the fits with ?part= and the code of the part.';

export const parts = catalogue({
  table,
  word: 'part',
  columns: () => ({}),
  after: [keepNumbers, keepPartWords],
  removed: [dropPartWords],
  // What a revision, an offer, a stock item or a fit was written for must stay what it is: a ring does not become a sleeve.
  stays: {
    field: 'kind',
    why: async (ctx, changes) => {
      const other = changes.filter(({ body, before }) => before !== undefined && body.kind !== before.kind);
      const users = await usersOf(
        ctx,
        other.map(({ body }) => body.code),
      );
      return new Map(
        other.flatMap(({ body, before }) => {
          const user = users.get(body.code);
          if (user === undefined || before === undefined) return [];
          return [
            [
              body.code,
              `The part ${body.code} is a ${before.kind}, and ${user} uses it as one, so it cannot become a ${body.kind}. Add the ${body.kind} under another code.`,
            ],
          ];
        }),
      );
    },
  },
  filters: { kind: (_ctx, kind) => eq(table.kind, kind) },
  inUse: {
    offer_parts_part: 'An offer sells this part. Remove the offer first, or change what it sells.',
    loom_parts_part:
      'A loom names this part. Revisions of a loom never change, so the part cannot be removed.',
    fits_from: FIT_NAMES_IT,
    fits_to: FIT_NAMES_IT,
    stock_part: 'This part is in stock. Remove the stock item first, or change which part it is of.',
  },
});

/** Something that names each of these parts, in words. */
async function usersOf(ctx: Ctx, codes: string[]): Promise<Map<string, string>> {
  const users = new Map<string, string>();
  if (codes.length === 0) return users;
  for (const [uses, column, word] of [
    [fits, fits.toPart, 'a fit'],
    [fits, fits.fromPart, 'a fit'],
    [stock, stock.partCode, 'a stock item'],
    [offerParts, offerParts.partCode, 'an offer'],
    [loomParts, loomParts.partCode, 'a loom'],
  ] as const) {
    const used = await ctx.tx
      .selectDistinct({ part: column })
      .from(uses)
      .where(and(eq(uses.clubId, ctx.club), inArray(column, codes)));
    for (const { part } of used) users.set(part, word);
  }
  return users;
}
