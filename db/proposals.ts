import { and, eq, sql } from 'drizzle-orm';
import { record, type Ctx } from './club.ts';
import { Moved, NotFound } from './errors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import type { Standing } from './schema/columns.ts';
import { offers, parts } from './schema/index.ts';

const TABLES = { part: parts, offer: offers };
export type Confirmable = keyof typeof TABLES;

/** What a member put in and no editor has confirmed. `name`: a code, or the words of a fit. */
export interface Proposal {
  kind: 'fit' | 'offer' | 'part';
  name: string;
  body: unknown;
  /** The actor, as the record has it; null: from before members were kept. */
  by: string | null;
  at: Date;
}

export interface ProposalFilter {
  kind?: Proposal['kind'] | undefined;
  by?: string | undefined;
}

type Found = Omit<Proposal, 'at' | 'body'> & { at: Date | string; body: unknown };

/** By kind and name; the cursor is the two with a space between. */
export async function listProposals({
  ctx,
  input: { limit, after, kind, by },
}: {
  ctx: Ctx;
  input: PageInput & ProposalFilter;
}): Promise<Page<Proposal>> {
  const club = ctx.club;
  const found = await ctx.tx.execute(sql`
    select kind, name, body::text as body, created_by as "by", created_at as at from (
      select 'part' as kind, code as name, body, created_by, created_at from parts
        where club_id = ${club} and standing = 'proposed' and merged_into is null
      union all
      select 'offer', code, body, created_by, created_at from offers
        where club_id = ${club} and standing = 'proposed'
      union all
      select 'fit', from_part || '/' || relation || '/' || to_part, body, created_by, created_at from fits
        where club_id = ${club} and body ->> 'status' = 'proposed'
    ) as proposed
    where ${and(
      sql`true`,
      kind === undefined ? undefined : sql`kind = ${kind}`,
      by === undefined ? undefined : sql`created_by = ${by}`,
      after === undefined ? undefined : sql`(kind || ' ' || name) collate "C" > ${after}`,
    )}
    order by (kind || ' ' || name) collate "C" limit ${limit + 1}`);
  // One driver hands on a list, the other one an object that has it.
  const rows = (Array.isArray(found) ? found : (found as { rows: unknown[] }).rows) as Found[];
  return pageOf(
    rows,
    limit,
    (row) => `${row.kind} ${row.name}`,
    (row) => ({ ...row, body: JSON.parse(String(row.body)) as unknown, at: new Date(row.at) }),
  );
}

/** How far a part or an offer is trusted, and who put it in. */
export interface Stands {
  standing: Standing;
  by: string | null;
}

/** Errors: NotFound, Moved. */
export async function getStanding({
  ctx,
  input: { word, code },
}: {
  ctx: Ctx;
  input: { word: Confirmable; code: string };
}): Promise<Stands> {
  const { standing, createdBy } = await requireRow(ctx, word, code);
  return { standing, by: createdBy };
}

/** An editor's word that a proposal is right; nothing changes where it was given before. Errors: NotFound, Moved. */
export async function confirm({
  ctx,
  input: { word, code },
}: {
  ctx: Ctx;
  input: { word: Confirmable; code: string };
}): Promise<Stands> {
  const { standing, createdBy } = await requireRow(ctx, word, code);
  if (standing === 'proposed') {
    const table = TABLES[word] as typeof parts;
    await ctx.tx
      .update(table)
      .set({ standing: 'confirmed' })
      .where(and(eq(table.clubId, ctx.club), eq(table.code, code)));
    const [before, after] = [{ standing }, { standing: 'confirmed' }];
    await record(ctx, `${word}.confirm`, code, { before, after });
  }
  return { standing: 'confirmed', by: createdBy };
}

async function requireRow(ctx: Ctx, word: Confirmable, code: string) {
  const table = TABLES[word] as typeof parts;
  const [row] = await ctx.tx
    .select()
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.code, code)))
    .for('no key update');
  if (!row) throw new NotFound(`${word} ${code}`);
  if (word === 'part' && row.mergedInto !== null) throw new Moved(word, code, row.mergedInto);
  return row;
}
