import { and, eq } from 'drizzle-orm';
import type { Part } from '../worker/engine/model/part.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { Conflict } from './errors.ts';
import { loomParts, offerParts, parts as table } from './schema/index.ts';

export const parts = catalogue({
  table,
  word: 'part',
  columns: () => ({}),
  mayReplace: keepKind,
  inUse: {
    offer_parts_part: 'An offer sells this part. Remove the offer first, or change what it sells.',
    loom_parts_part: 'A loom names this part; its revisions never change, so the part stays.',
  },
});

/** What a revision or an offer was written for must stay what it is: a ring does not become a sleeve. */
async function keepKind(ctx: Ctx, before: Part, after: Part): Promise<void> {
  if (before.kind === after.kind) return;
  for (const uses of [loomParts, offerParts]) {
    const used = await ctx.tx
      .select({ part: uses.partCode })
      .from(uses)
      .where(and(eq(uses.clubId, ctx.club), eq(uses.partCode, after.code)))
      .limit(1);
    if (used.length > 0)
      throw new Conflict(
        'kind-in-use',
        `The part ${after.code} is a ${before.kind}, and ${uses === loomParts ? 'a loom' : 'an offer'} names it as such; it cannot become a ${after.kind}. Add the ${after.kind} under another code.`,
      );
  }
}
