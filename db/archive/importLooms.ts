import { and, eq } from 'drizzle-orm';
import { partsNamed } from '../../worker/engine/model/loomReferences.ts';
import type { Ctx } from '../club.ts';
import { keepPartsOf } from '../looms.ts';
import { loomRevisions, looms } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import { authorsIn, isBody, requireNames } from './importCatalogue.ts';
import { requireMembers } from './importMembers.ts';
import { ownedIn } from './owned.ts';
import type { Placed, Tally } from './report.ts';

/** Writes a loom that the club does not have. Error: Invalid where its owner is no member. */
export async function importLoom(ctx: Ctx, placed: Placed<EntryOf<'loom'>>, told: Tally): Promise<void> {
  const { entry } = placed;
  const { code, latestRevision, createdAt, updatedAt } = entry;
  const [row] = await ctx.tx
    .select({ latestRevision: looms.latestRevision })
    .from(looms)
    .where(and(eq(looms.clubId, ctx.club), eq(looms.code, code)));
  if (row) return told.count(row.latestRevision === latestRevision ? 'equal' : 'differs', placed);
  await requireMembers(ctx, [placed], 'owner', ({ owner }) => owner);
  await ctx.tx.insert(looms).values({
    clubId: ctx.club,
    code,
    latestRevision,
    createdAt: new Date(createdAt),
    updatedAt: new Date(updatedAt),
    ...authorsIn(entry),
    ...ownedIn(entry),
  });
  told.count('new', placed);
}

/** Writes a revision that the club does not have. Error: Invalid where it names a part that is not there. */
export async function importRevision(
  ctx: Ctx,
  placed: Placed<EntryOf<'revision'>>,
  told: Tally,
): Promise<void> {
  const { loom, revision, body, createdAt, createdBy } = placed.entry;
  const [row] = await ctx.tx
    .select({ body: loomRevisions.body })
    .from(loomRevisions)
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        eq(loomRevisions.loomCode, loom),
        eq(loomRevisions.revision, revision),
      ),
    );
  if (row) return told.count(isBody(placed.entry, row.body) ? 'equal' : 'differs', placed);
  const named = partsNamed(body).map(({ part, path }) => ({ code: part, path: ['body', ...path] }));
  // A revision names what it has always named.
  await requireNames(ctx, [placed], () => [{ word: 'part', named }], { merged: true });
  await ctx.tx.insert(loomRevisions).values({
    clubId: ctx.club,
    loomCode: loom,
    revision,
    body,
    createdAt: new Date(createdAt),
    createdBy,
  });
  await keepPartsOf(ctx, loom, revision, body);
  told.count('new', placed);
}
