import { and, eq, inArray, isNull, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { renamedInPart } from '../worker/engine/model/renamedParts.ts';
import { catalogue } from './catalogue.ts';
import { seeingAll, type Ctx } from './club.ts';
import { heirsOf } from './heirs.ts';
import { dropPartWords, keepNumbers, keepPartWords } from './search/keep.ts';
import { byWords } from './sorting.ts';
import { fits, loomParts, offerParts, parts as table, stock } from './schema/index.ts';

const FIT_NAMES_IT =
  'A fit names this part. Remove the fit first. To find it, list the fits with ?part= and the code of the part.';

export const parts = catalogue({
  table,
  word: 'part',
  proposed: true,
  moved: { live: isNull(table.mergedInto), to: (row) => (row as typeof table.$inferSelect).mergedInto },
  asMeant: async (ctx, bodies) => {
    const heirs = await heirsOf({ ctx });
    return bodies.map((part) => renamedInPart(part, heirs));
  },
  faults: async (ctx, bodies) => {
    const heirs = await heirsOf({ ctx });
    return new Map(
      bodies.flatMap(({ code }) => {
        const heir = heirs.get(code);
        return heir === undefined ? [] : [[code, [mergedPart(code, heir)]]];
      }),
    );
  },
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
  sorts: { name: byWords(sql`(${table.body} ->> 'description')`) },
  inUse: {
    offer_parts_part: 'An offer sells this part. Remove the offer first, or change what it sells.',
    loom_parts_part:
      'A loom names this part. Revisions of a loom never change, so the part cannot be removed.',
    fits_from: FIT_NAMES_IT,
    fits_to: FIT_NAMES_IT,
    parts_merged_into:
      'Another part was merged into this one, and its old code leads here for ever, so this part stays.',
    stock_part: 'This part is in stock. Remove the stock item first, or change which part it is of.',
  },
});

/** An old code is never given to another part. */
function mergedPart(code: string, heir: string): Finding {
  return {
    code: 'merged-part',
    severity: 'stop',
    at: pointer(['code']),
    where: 'code',
    found: JSON.stringify(code),
    limit: heir,
    todo: `The part ${code} was merged into ${heir}. Change ${heir}, or use another code for a new part.`,
  };
}

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
    // Also a loom that its owner alone sees; nobody is told which.
    const used = await seeingAll(ctx, ({ tx, club }) =>
      tx
        .selectDistinct({ part: column })
        .from(uses)
        .where(and(eq(uses.clubId, club), inArray(column, codes))),
    );
    for (const { part } of used) users.set(part, word);
  }
  return users;
}
