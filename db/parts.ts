import { and, eq, or } from 'drizzle-orm';
import type { Part } from '../worker/engine/model/part.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { Conflict } from './errors.ts';
import { fits, loomParts, offerParts, parts as table, stock } from './schema/index.ts';

const FIT_NAMES_IT =
  'A fit names this part. Remove the fit first. To find it, list the fits with ?part= and the code of the part.';

export const parts = catalogue({
  table,
  word: 'part',
  columns: () => ({}),
  mayReplace: keepKind,
  inUse: {
    offer_parts_part: 'An offer sells this part. Remove the offer first, or change what it sells.',
    loom_parts_part:
      'A loom names this part. Revisions of a loom never change, so the part cannot be removed.',
    fits_from: FIT_NAMES_IT,
    fits_to: FIT_NAMES_IT,
    stock_part: 'This part is in stock. Remove the stock item first, or change which part it is of.',
  },
});

/** What a revision, an offer, a stock item or a fit was written for must stay what it is: a ring does not become a sleeve. */
async function keepKind(ctx: Ctx, before: Part, after: Part): Promise<void> {
  if (before.kind === after.kind) return;
  const user = await userOf(ctx, after.code);
  if (user !== undefined)
    throw new Conflict(
      'kind-in-use',
      `The part ${after.code} is a ${before.kind}, and ${user} uses it as one, so it cannot become a ${after.kind}. Add the ${after.kind} under another code.`,
    );
}

/** Something that names a part, in words. */
async function userOf(ctx: Ctx, part: string): Promise<string | undefined> {
  for (const [uses, word] of [
    [loomParts, 'a loom'],
    [offerParts, 'an offer'],
    [stock, 'a stock item'],
  ] as const) {
    const used = await ctx.tx
      .select({ part: uses.partCode })
      .from(uses)
      .where(and(eq(uses.clubId, ctx.club), eq(uses.partCode, part)))
      .limit(1);
    if (used.length > 0) return word;
  }
  const fitted = await ctx.tx
    .select({ part: fits.fromPart })
    .from(fits)
    .where(and(eq(fits.clubId, ctx.club), or(eq(fits.fromPart, part), eq(fits.toPart, part))))
    .limit(1);
  return fitted.length > 0 ? 'a fit' : undefined;
}
