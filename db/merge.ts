import { and, asc, eq, inArray, sql } from 'drizzle-orm';
import { renamedInOffer, renamedInPart, renamedInStock } from '../worker/engine/model/renamedParts.ts';
import { takenOver } from '../worker/engine/model/takenOver.ts';
import { aloneInBulk, type Bulk } from './bulk.ts';
import { record, type Ctx } from './club.ts';
import { Conflict, NotFound, Stale } from './errors.ts';
import { clashesOf, mergeFits } from './mergeFits.ts';
import { mergePrices } from './mergePrices.ts';
import { offers } from './offers.ts';
import { parts as partStore } from './parts.ts';
import { parts } from './schema/index.ts';
import { dropNumbers, dropPartWords } from './search/keep.ts';
import { aloneOnShelf } from './reservations.ts';
import { stock } from './stock.ts';
import { usesOf, type Uses } from './uses.ts';
import { isVersion, type Changeable } from './version.ts';

/** Two parts that are to become one: `part` goes, `into` stays. */
export interface MergeAsked {
  part: string;
  into: string;
}

/** What a merge changes; looms, revisions and quotes stay as they are and are read with the new code. */
export interface Merge extends MergeAsked, Uses {
  /** What cannot simply be renamed, in sentences. */
  clashes: string[];
}

type Row = typeof parts.$inferSelect;

/** Rows written at once. */
const CHUNK = 500;

/** What a merge would change. Errors: those of mergeParts, but for Stale. */
export async function previewMerge({ ctx, input }: { ctx: Ctx; input: MergeAsked }): Promise<Merge> {
  const rows = await ctx.tx
    .select()
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), inArray(parts.code, [input.part, input.into])));
  requireMergeable(input, rows);
  return changedBy(ctx, input);
}

/**
 * Makes two parts one, in the transaction of the call: what names the one names the other afterwards, and the old code leads
 * there for ever. Revisions of looms and quotes never change; they are read with the new code. Errors: NotFound, Stale,
 * Conflict for a part with itself, with one of another kind, or with one that was merged itself.
 */
export async function mergeParts({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: MergeAsked & { version: Changeable };
}): Promise<Merge> {
  const { part: from, into, version } = input;
  await aloneInBulk({ ctx });
  await aloneOnShelf(ctx);
  // Held against whoever names them: a new offer of the old code waits, and is refused.
  const rows = await ctx.tx
    .select()
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), inArray(parts.code, [from, into])))
    .orderBy(asc(parts.code))
    .for('update');
  const { gone, stays } = requireMergeable({ part: from, into }, rows);
  if (!isVersion(gone, version)) throw new Stale();
  const merge = await changedBy(ctx, { part: from, into });
  const heirs = new Map([[from, into]]);
  await mergePrices(ctx, { part: from, into }, heirs);
  await rewrite(ctx, offers.bulk, merge.offers, (offer) => renamedInOffer(offer, heirs));
  await rewrite(ctx, stock.bulk, merge.stock, (item) => renamedInStock(item, heirs));
  await rewrite(ctx, partStore.bulk, merge.standIns, (part) => renamedInPart(part, heirs));
  await mergeFits(ctx, merge.fits, heirs);
  // From now on it is found under the part that stays.
  await dropPartWords(ctx, [from]);
  await dropNumbers(ctx, [from]);
  await takeOver(ctx, stays.code, gone);
  await ctx.tx
    .update(parts)
    .set({ mergedInto: into })
    .where(and(eq(parts.clubId, ctx.club), eq(parts.mergedInto, from)));
  await ctx.tx
    .update(parts)
    .set({
      mergedInto: into,
      version: sql`${parts.version} + 1`,
      updatedAt: ctx.now(),
      updatedBy: ctx.actor,
    })
    .where(and(eq(parts.clubId, ctx.club), eq(parts.code, from)));
  await record(ctx, 'part.merge', from, { before: gone.body, after: { ...gone.body, mergedInto: into } });
  return merge;
}

async function changedBy(ctx: Ctx, { part, into }: MergeAsked): Promise<Merge> {
  const uses = await usesOf({ ctx, input: { code: part } });
  return { part, into, ...uses, clashes: await clashesOf(ctx, { part, into }, uses) };
}

/** Errors: NotFound, Conflict. */
function requireMergeable({ part, into }: MergeAsked, rows: readonly Row[]): { gone: Row; stays: Row } {
  if (part === into)
    throw new Conflict(
      'merge',
      `${part} is one part already. Name another part in into, the one that stays.`,
    );
  const [gone, stays] = [part, into].map((code) => {
    const row = rows.find((each) => each.code === code);
    if (!row) throw new NotFound(`part ${code}`);
    return row;
  }) as [Row, Row];
  if (gone.mergedInto !== null)
    throw new Conflict(
      'merge',
      `${part} was merged into ${gone.mergedInto} already. Merge ${gone.mergedInto}.`,
    );
  if (stays.mergedInto !== null)
    throw new Conflict(
      'merge',
      stays.mergedInto === part
        ? `${into} was merged into ${part} already, so ${part} cannot go back into it.`
        : `${into} was merged into ${stays.mergedInto}. Name ${stays.mergedInto} in into.`,
    );
  if (gone.body.kind !== stays.body.kind)
    throw new Conflict(
      'merge',
      `${part} is a ${gone.body.kind} and ${into} is a ${stays.body.kind}. Only parts of one kind are merged.`,
    );
  return { gone, stays };
}

/** Rewrites entries by the store’s own way, so that what hangs on them follows and the record has each. */
async function rewrite<B>(
  ctx: Ctx,
  bulk: Bulk<B>,
  keys: readonly string[],
  renamed: (body: B) => B,
): Promise<void> {
  for (let start = 0; start < keys.length; start += CHUNK) {
    const before = await bulk.stored({ ctx, input: { keys: keys.slice(start, start + CHUNK) } });
    await bulk.write({
      ctx,
      input: [...before.values()].map((body) => ({ body: renamed(body), before: body })),
    });
  }
}

/** What the part that goes knew passes to the one that stays. */
async function takeOver(ctx: Ctx, code: string, gone: Row): Promise<void> {
  const stored = await partStore.bulk.stored({ ctx, input: { keys: [code] } });
  const before = stored.get(code);
  if (!before) return;
  const body = takenOver(before, gone.body);
  if (body !== before) await partStore.bulk.write({ ctx, input: [{ body, before }] });
}
