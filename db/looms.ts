import { and, desc, eq, sql } from 'drizzle-orm';
import { partsNamed } from '../worker/engine/model/loomReferences.ts';
import type { Loom, LoomRevision } from '../worker/engine/model/loom.ts';
import { renamedInLoom } from '../worker/engine/model/renamedParts.ts';
import { authorsOf, privateToOf, record, type Ctx } from './club.ts';
import { Conflict, FOREIGN_KEY_VIOLATION, NotFound, sqlState, Stale } from './errors.ts';
import { ownedBy, requireMayChange, requireOwner, seenByOf } from './own.ts';
import { ownerAsked } from './ownerAsked.ts';
import { pageOf, type ListInput, type Page } from './page.ts';
import { partsMeant } from './partsOfNumbers.ts';
import { requireKnown } from './references.ts';
import type { SeenBy } from './schema/columns.ts';
import { loomParts, loomRevisions, looms, members } from './schema/index.ts';
import { inOrder, newestChange, type Sorts } from './sorting.ts';
import { isVersion, versionIn, versionOf, type Changeable, type Version } from './version.ts';

/** Rows an insert: a statement takes at most 65,535 parameters. */
const CHUNK = 5_000;

/** One revision of a loom as stored. */
export interface StoredRevision {
  code: string;
  revision: number;
  latestRevision: number;
  /** Of the loom: the number of its latest revision. */
  version: Version;
  body: LoomRevision;
  createdAt: Date;
  createdBy: string;
}

export interface LoomHead {
  code: string;
  latestRevision: number;
  name: string;
  updatedAt: Date;
  /** The owner’s name; null: the club’s. */
  owner: string | null;
  seenBy: SeenBy;
}

/**
 * A new loom with its first revision, of the member who adds it. Errors: Conflict for a code in use, whoever sees what has
 * it; Invalid for parts that are not there; Forbidden where it would be nobody’s and must be somebody’s.
 */
export async function createLoom({
  ctx,
  input,
  seenBy = 'club',
}: {
  ctx: Ctx;
  input: Loom;
  seenBy?: SeenBy | undefined;
}): Promise<StoredRevision> {
  const { code, ...given } = input;
  requireOwner(ctx, 'looms');
  const owned = ownedBy(ctx, seenBy);
  const body = await loomAsMeant(ctx, given);
  await checkParts(ctx, body);
  const now = ctx.now();
  const rows = await ctx.tx
    .insert(looms)
    .values({
      clubId: ctx.club,
      code,
      latestRevision: 1,
      createdAt: now,
      updatedAt: now,
      ...owned,
      ...authorsOf(ctx),
    })
    .onConflictDoNothing()
    .returning();
  if (rows.length === 0)
    throw new Conflict(
      'duplicate-code',
      `The loom ${code} already exists. Use another code, or add a revision to the existing loom.`,
    );
  const version = { number: 1, born: now.getTime() };
  return writeRevision(ctx, { code, version, privateTo: privateToOf(owned) }, body);
}

/**
 * The next revision of a loom, if `latest` is still its latest. Errors: NotFound, Stale, Invalid for parts that are not
 * there, Forbidden for a loom of another where the caller is no editor.
 */
export async function addRevision({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string; latest: Changeable; body: LoomRevision };
}): Promise<StoredRevision> {
  const { code, latest } = input;
  const body = await loomAsMeant(ctx, input.body);
  await requireHead(ctx, code, latest);
  await checkParts(ctx, body);
  const [head] = await ctx.tx
    .update(looms)
    .set({ latestRevision: sql`${looms.latestRevision} + 1`, updatedAt: ctx.now(), updatedBy: ctx.actor })
    .where(asRead(ctx, code, latest))
    .returning();
  if (!head) throw new Stale();
  const version = versionOf({ ...head, version: head.latestRevision });
  return writeRevision(ctx, { code, version, privateTo: privateToOf(head) }, body);
}

/** A revision, the latest where none is named. */
export async function getRevision({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string; revision?: number | undefined };
}): Promise<StoredRevision> {
  const head = await getHead(ctx, input.code);
  const revision = input.revision ?? head.latestRevision;
  const rows = await ctx.tx
    .select()
    .from(loomRevisions)
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        eq(loomRevisions.loomCode, input.code),
        eq(loomRevisions.revision, revision),
      ),
    );
  if (!rows[0]) throw new NotFound(`revision ${revision} of loom ${input.code}`);
  const { body, createdAt, createdBy } = rows[0];
  return {
    code: input.code,
    revision,
    latestRevision: head.latestRevision,
    version: versionOf({ version: head.latestRevision, createdAt: head.createdAt }),
    body,
    createdAt,
    createdBy,
  };
}

const SORTS: Sorts = { code: undefined, updated: newestChange(looms.updatedAt) };
/** By what a list of looms can be sorted. */
export const LOOM_SORTS = Object.keys(SORTS);

/** In order; `owner`: only those of this member, by id or `me`. Error: Invalid for a member who is not there. */
export async function listLooms({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Omit<ListInput, 'filters'> & { owner?: string | undefined };
}): Promise<Page<LoomHead>> {
  const owner = input.owner === undefined ? undefined : await ownerAsked(ctx, input.owner);
  const { beyond, order, told, placeOf } = inOrder(SORTS, [looms.code], input);
  const rows = await ctx.tx
    .select({
      code: looms.code,
      latestRevision: looms.latestRevision,
      updatedAt: looms.updatedAt,
      private: looms.private,
      owner: members.name,
      name: sql<string>`${loomRevisions.body} ->> 'name'`,
      told,
    })
    .from(looms)
    .innerJoin(
      loomRevisions,
      and(
        eq(loomRevisions.clubId, looms.clubId),
        eq(loomRevisions.loomCode, looms.code),
        eq(loomRevisions.revision, looms.latestRevision),
      ),
    )
    .leftJoin(members, and(eq(members.clubId, looms.clubId), eq(members.id, looms.ownerId)))
    .where(
      and(eq(looms.clubId, ctx.club), owner === undefined ? undefined : eq(looms.ownerId, owner), beyond),
    )
    .orderBy(...order)
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => placeOf(row.code, row.told),
    ({ private: _private, told: _told, ...head }) => ({ ...head, seenBy: seenByOf({ private: _private }) }),
  );
}

/** The numbers of a loom's revisions, latest first. */
export async function listRevisions({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string };
}): Promise<{ revision: number; createdAt: Date; createdBy: string }[]> {
  await getHead(ctx, input.code);
  return ctx.tx
    .select({
      revision: loomRevisions.revision,
      createdAt: loomRevisions.createdAt,
      createdBy: loomRevisions.createdBy,
    })
    .from(loomRevisions)
    .where(and(eq(loomRevisions.clubId, ctx.club), eq(loomRevisions.loomCode, input.code)))
    .orderBy(desc(loomRevisions.revision));
}

/** Removes a loom with its revisions. Errors: NotFound, Stale, Forbidden as above, Conflict where a quote was made of it. */
export async function removeLoom({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string; latest: Changeable };
}): Promise<void> {
  const { body: before } = await getRevision({ ctx, input: { code: input.code } });
  const head = await requireHead(ctx, input.code, input.latest);
  try {
    await ctx.tx.transaction(async (tx) => {
      const gone = await tx
        .delete(looms)
        .where(asRead(ctx, input.code, input.latest))
        .returning({ code: looms.code });
      if (gone.length === 0) throw new Stale();
    });
  } catch (error) {
    if (sqlState(error) !== FOREIGN_KEY_VIOLATION) throw error;
    throw new Conflict('in-use', `The loom ${input.code} has quotes, so it cannot be removed.`);
  }
  await record(ctx, 'loom.remove', input.code, { before, privateTo: privateToOf(head) });
}

async function getHead(ctx: Ctx, code: string) {
  const rows = await ctx.tx
    .select()
    .from(looms)
    .where(and(eq(looms.clubId, ctx.club), eq(looms.code, code)));
  if (!rows[0]) throw new NotFound(`loom ${code}`);
  return rows[0];
}

/** Errors: NotFound; Forbidden for a loom of another, where the caller is no editor. */
export async function requireChangeable({
  ctx,
  input: { code },
}: {
  ctx: Ctx;
  input: { code: string };
}): Promise<typeof looms.$inferSelect> {
  const head = await getHead(ctx, code);
  requireMayChange(ctx, { what: `loom ${code}`, many: 'looms' }, head);
  return head;
}

/** Errors: NotFound, Forbidden, Stale. */
async function requireHead(ctx: Ctx, code: string, read: Changeable): Promise<typeof looms.$inferSelect> {
  const head = await requireChangeable({ ctx, input: { code } });
  const { latestRevision, createdAt } = head;
  if (!isVersion({ version: latestRevision, createdAt }, read)) throw new Stale();
  return head;
}

function asRead(ctx: Ctx, code: string, read: Changeable) {
  const version = { version: looms.latestRevision, createdAt: looms.createdAt };
  return and(eq(looms.clubId, ctx.club), eq(looms.code, code), versionIn(version, read));
}

/** A loom with the codes of the parts that are meant, where it names them otherwise. */
export async function loomAsMeant<L extends LoomRevision>(ctx: Ctx, body: L): Promise<L> {
  const input = partsNamed(body).map(({ part }) => part);
  return renamedInLoom(body, await partsMeant({ ctx, input }));
}

function checkParts(ctx: Ctx, body: LoomRevision): Promise<void> {
  return requireKnown(
    ctx,
    'part',
    partsNamed(body).map(({ part, path }) => ({ code: part, path })),
  );
}

async function writeRevision(
  ctx: Ctx,
  { code, version, privateTo }: { code: string; version: Version; privateTo: string | null },
  body: LoomRevision,
): Promise<StoredRevision> {
  const revision = version.number;
  const createdAt = ctx.now();
  await ctx.tx
    .insert(loomRevisions)
    .values({ clubId: ctx.club, loomCode: code, revision, body, createdAt, createdBy: ctx.actor });
  await keepPartsOf(ctx, code, revision, body);
  // What was before is the revision before, which the record has too.
  const changed = { after: body, privateTo };
  await record(ctx, revision === 1 ? 'loom.create' : 'loom.revise', `${code}/${revision}`, changed);
  return { code, revision, latestRevision: revision, version, body, createdAt, createdBy: ctx.actor };
}

/** Keeps which parts a revision names, so that they stay. */
export async function keepPartsOf(
  ctx: Ctx,
  code: string,
  revision: number,
  body: LoomRevision,
): Promise<void> {
  const named = [...new Set(partsNamed(body).map(({ part }) => part))];
  for (let start = 0; start < named.length; start += CHUNK)
    await ctx.tx
      .insert(loomParts)
      .values(
        named
          .slice(start, start + CHUNK)
          .map((part) => ({ clubId: ctx.club, loomCode: code, revision, partCode: part })),
      );
}
