import { and, eq, inArray } from 'drizzle-orm';
import { pointer, type Finding } from '../../worker/engine/model/finding.ts';
import { offerParts as partsOf } from '../../worker/engine/model/offer.ts';
import type { Ctx } from '../club.ts';
import { constraintOf, Invalid } from '../errors.ts';
import { unknownNames, type Named, type Word } from '../references.ts';
import { heirsOf } from '../heirs.ts';
import * as tables from '../schema/index.ts';
import { fits, lanes, rates, stock, suppliers } from '../schema/index.ts';
import { offers } from '../offers.ts';
import { parts } from '../parts.ts';
import type { Catalogue } from '../catalogue.ts';
import type { Entry, EntryOf } from './entries.ts';
import { requireMembers } from './importMembers.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';

type CodeType = 'part' | 'supplier' | 'offer' | 'rate' | 'lane' | 'stock';
type CodeTable =
  typeof tables.parts | typeof suppliers | typeof tables.offers | typeof rates | typeof lanes | typeof stock;

interface Names {
  word: Word;
  named: Named[];
}

interface Kind<T extends CodeType> {
  table: CodeTable;
  columns: (body: EntryOf<T>['body']) => object;
  /** What an entry names that must be there. */
  names?: (body: EntryOf<T>['body']) => Names[];
  hang?: Catalogue<EntryOf<T>['body']>['hang'];
}

const KINDS: { [T in CodeType]: Kind<T> } = {
  part: { table: tables.parts, columns: () => ({}), hang: parts.hang },
  supplier: { table: suppliers, columns: () => ({}) },
  offer: {
    table: tables.offers,
    columns: ({ supplier, seenOn }) => ({ supplierCode: supplier, seenOn: seenOn ?? null }),
    names: (offer) => [
      { word: 'supplier', named: [{ code: offer.supplier, path: ['body', 'supplier'] }] },
      {
        word: 'part',
        named: partsOf(offer).map(({ part, path }) => ({ code: part, path: ['body', ...path] })),
      },
    ],
    hang: offers.hang,
  },
  rate: { table: rates, columns: ({ currency, on }) => ({ currency, day: on }) },
  lane: { table: lanes, columns: ({ from, to }) => ({ fromCountry: from, toCountry: to }) },
  // What hangs on it, its movements, stands further down: see shelfKeeper.
  stock: {
    table: stock,
    columns: ({ part }) => ({ partCode: part }),
    names: ({ part }) => [{ word: 'part', named: [{ code: part, path: ['body', 'part'] }] }],
  },
};

/** A rate of a day and a lane of a way that stand in the club under another code, and a rate of its own currency. */
const CLASHES = ['rates_of_a_day', 'rates_of_another_currency', 'lanes_between_two'];

export const isCodeType = (type: string): type is CodeType => Object.hasOwn(KINDS, type);

const dates = (entry: EntryOf<CodeType | 'fit'>) => ({
  ...authorsIn(entry),
  version: entry.version,
  createdAt: new Date(entry.createdAt),
  updatedAt: new Date(entry.updatedAt),
});

/** Who put something in and who changed it last, where its entry says so. */
export const authorsIn = ({ createdBy, updatedBy }: EntryOf<CodeType | 'fit' | 'loom'>) => ({
  createdBy: createdBy ?? null,
  updatedBy: updatedBy ?? null,
});

/** How far a part or an offer is trusted, which part a part became, and whose a stock item is. */
function trusted(entry: EntryOf<CodeType>): object {
  if (entry.type === 'stock') return { ownerId: entry.owner ?? null };
  if (entry.type === 'part') return { standing: entry.standing ?? 'confirmed', mergedInto: heirIn(entry) };
  return entry.type === 'offer' ? { standing: entry.standing ?? 'confirmed' } : {};
}

/** The part that a part became, if it was merged. */
const heirIn = (entry: EntryOf<CodeType>): string | null =>
  entry.type === 'part' ? (entry.mergedInto ?? null) : null;

/** Writes those entries of one type that the club does not have. Error: Invalid where one names what is not there. */
export async function importCatalogue<T extends CodeType>(
  ctx: Ctx,
  batch: Placed<EntryOf<T>>[],
  told: Tally,
): Promise<void> {
  const kind = KINDS[batch[0]?.entry.type as T];
  // Drizzle cannot see that the tables agree in these columns.
  const table = kind.table as unknown as typeof tables.parts;
  const codes = batch.map(({ entry }) => entry.body.code);
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.code, codes)));
  const stored = new Map(rows.map((row) => [row.code, row]));
  const fresh = batch.filter((placed) => {
    const there = stored.get(placed.entry.body.code);
    if (there) {
      const same = isBody(placed.entry, there.body) && heirIn(placed.entry) === (there.mergedInto ?? null);
      told.count(same ? 'equal' : 'differs', placed);
    }
    return there === undefined;
  });
  if (fresh.length === 0) return;
  await requireMembers(ctx, fresh, 'owner', (entry) => (entry.type === 'stock' ? entry.owner : undefined));
  await requireNames(ctx, fresh, ({ entry }) => kind.names?.(entry.body) ?? []);
  const values = fresh.map(({ entry }) => ({
    clubId: ctx.club,
    code: entry.body.code,
    body: entry.body,
    ...kind.columns(entry.body),
    ...dates(entry),
    ...trusted(entry),
  })) as (typeof tables.parts.$inferInsert)[];
  const written = await unlessClash(ctx, (tx) => tx.insert(table).values(values));
  if (written)
    await kind.hang?.({
      ctx,
      // A merged part leads to another, under which it is found.
      input: fresh
        .filter(({ entry }) => heirIn(entry) === null)
        .map(({ entry }) => ({ body: entry.body, before: undefined })),
    });
  for (const placed of fresh) told.count(written ? 'new' : 'differs', placed);
}

/** The same of fits. */
export async function importFits(ctx: Ctx, batch: Placed<EntryOf<'fit'>>[], told: Tally): Promise<void> {
  for (const placed of batch) {
    const { body } = placed.entry;
    const [row] = await ctx.tx
      .select({ body: fits.body })
      .from(fits)
      .where(
        and(
          eq(fits.clubId, ctx.club),
          eq(fits.fromPart, body.from),
          eq(fits.relation, body.relation),
          eq(fits.toPart, body.to),
        ),
      );
    if (row) {
      told.count(isBody(placed.entry, row.body) ? 'equal' : 'differs', placed);
      continue;
    }
    await requireNames(ctx, [placed], () => [
      {
        word: 'part',
        named: (['from', 'to'] as const).map((side) => ({ code: body[side], path: ['body', side] })),
      },
    ]);
    const { from: fromPart, relation, to: toPart } = body;
    await ctx.tx
      .insert(fits)
      .values({ clubId: ctx.club, fromPart, relation, toPart, body, ...dates(placed.entry) });
    told.count('new', placed);
  }
}

/** Whether an entry has the body that is stored, whenever either was written. */
export function isBody(entry: Extract<Entry, { body: unknown }>, stored: unknown): boolean {
  return isSame({ ...entry, body: stored } as Entry, entry);
}

/** Whether it was written: not where it clashes with another entry of the club. */
async function unlessClash(ctx: Ctx, write: (tx: Ctx['tx']) => PromiseLike<unknown>): Promise<boolean> {
  try {
    // A savepoint: after the refusal of a constraint the rest is still looked at.
    await ctx.tx.transaction(async (tx) => void (await write(tx)));
    return true;
  } catch (error) {
    if (!CLASHES.includes(constraintOf(error) ?? '')) throw error;
    return false;
  }
}

/**
 * Error: Invalid with every name that the club does not have, and its line; the same for parts that were merged, unless
 * `merged` ones may be named.
 */
export async function requireNames<P extends Placed>(
  ctx: Ctx,
  batch: P[],
  namesOf: (placed: P) => Names[],
  { merged = false }: { merged?: boolean } = {},
): Promise<void> {
  const named = new Map<Word, Named[]>();
  for (const placed of batch)
    for (const { word, named: names } of namesOf(placed))
      named.set(word, [
        ...(named.get(word) ?? []),
        ...names.map(({ code, path }) => ({ code, path: [placed.line, ...path] })),
      ]);
  const findings = [];
  for (const [word, names] of named) {
    findings.push(...(await unknownNames(ctx, word, names)));
    if (word === 'part' && !merged) findings.push(...(await mergedNames(ctx, names)));
  }
  if (findings.length > 0) throw new Invalid(findings.map((finding) => atLine(finding)));
}

async function mergedNames(ctx: Ctx, names: readonly Named[]): Promise<Finding[]> {
  const heirs = await heirsOf({ ctx });
  return names.flatMap(({ code, path }) => {
    const heir = heirs.get(code);
    if (heir === undefined) return [];
    return [
      {
        code: 'merged-part',
        severity: 'stop',
        at: pointer(path),
        where: '',
        found: JSON.stringify(code),
        limit: heir,
        todo: `The part ${code} was merged into ${heir}. Take the archive again from where it came. It must say ${heir} here.`,
      } as const,
    ];
  });
}

/** The line stands first in the pointer: told in words, and the pointer as one into the line. */
function atLine<F extends { at: string; where: string }>(finding: F): F {
  const [, line = '', ...path] = finding.at.split('/');
  return { ...finding, at: pointer(path), where: `line ${line}, ${path.join(', ')}` };
}
