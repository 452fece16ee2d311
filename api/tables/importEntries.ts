import { createReadStream } from 'node:fs';
import { aloneInBulk } from '../../db/bulk.ts';
import { asClub, type ClubCtx, type Ctx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import type { Database } from '../../db/connect.ts';
import { parts } from '../../db/parts.ts';
import { clubShorts, type ClubShorts } from '../../db/shortContext.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { offerParts, type Offer } from '../../worker/engine/model/offer.ts';
import type { ShortContext } from '../../worker/engine/model/short/form.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { importTable, type Against, type Thing } from '../../worker/tables/importTable.ts';
import { tableOf } from '../../worker/tables/tables.ts';
import { readingOf, type OffersQuery } from './query.ts';
import { storeOf, type EntryTableName } from './stores.ts';
import { presentSummary, type TableImport } from './summary.ts';
import { breather } from '../http/breather.ts';
import { unstorableIn } from './storable.ts';

/** Ends a transaction without what it wrote. */
class Undo extends Error {}

/** Most codes that are told of wire parts that came into being. */
const MOST_CODES = 200;

/**
 * Brings a table's file into the club in one transaction, in batches: what is new is added, what differs is changed. With
 * `preview`, or where all or nothing is asked and there are faults, the same is done and undone, so that a row is always
 * judged with those before it.
 */
export function importEntries(
  database: Database,
  base: ClubCtx,
  { name, file, query }: { name: EntryTableName; file: string; query: OffersQuery },
): Promise<TableImport> {
  return inBulk(database, base, query, (ctx) => imported(ctx, name, file, query));
}

type Told = Pick<TableImport, 'faults' | 'file' | 'written'>;

/** Does this alone in a transaction of the club; undone where a preview is asked, or all or nothing and there are faults. */
export async function inBulk<T extends Told>(
  database: Database,
  base: ClubCtx,
  query: Pick<OffersQuery, 'preview' | 'allOrNothing'>,
  work: (ctx: Ctx) => Promise<T>,
): Promise<T> {
  const undone: { told?: T } = {};
  try {
    return await asClub(database, base, async (ctx) => {
      await aloneInBulk({ ctx });
      const told = await work(ctx);
      const refused = query.allOrNothing === 'true' && (told.faults > 0 || told.file.length > 0);
      if (query.preview !== 'true' && !refused) return told;
      undone.told = { ...told, written: false };
      throw new Undo('undone');
    });
  } catch (error) {
    if (!(error instanceof Undo) || !undone.told) throw error;
    return undone.told;
  }
}

/** Whoever imports a table of a special kind sees its rows as they go by. */
export interface Onlooker {
  /** Keys that rows name, in a batch. */
  named: (keys: readonly string[]) => void;
  /** What else is wrong with a thing. */
  against: (thing: Thing) => readonly Finding[];
  /** New and changed things, as they are written. */
  writes: (things: readonly Thing[]) => void;
}

/** Brings a table's file into the club, in batches. */
export async function imported(
  ctx: Ctx,
  name: EntryTableName,
  file: string,
  query: OffersQuery,
  onlooker?: Onlooker,
): Promise<TableImport> {
  const store = storeOf(name);
  const wires = name === 'offers' ? new MadeWires(ctx, await clubShorts({ ctx })) : undefined;
  const own: ShortContext = wires?.shorts.context ?? { currency: (await getClub({ ctx })).currency };
  const { supplier, condition, seenOn, currency } = query;
  const context: ShortContext = { ...own, offerCurrency: currency };
  const summary = await importTable({
    table: tableOf(name),
    bytes: createReadStream(file),
    options: {
      ...readingOf(query),
      context: () => context,
      details: query.rows,
      pause: breather(),
      usual: Object.fromEntries(
        Object.entries({ supplier, condition, seenOn }).filter(([, value]) => value !== undefined),
      ),
    },
    existing: async (keys) => {
      onlooker?.named(keys);
      const stored = await store.stored({ ctx, input: { keys: keys.map(stores) } });
      return new Map(keys.flatMap((key) => pairOf(key, stored.get(stores(key)))));
    },
    asMeant: async (things) =>
      ((await store.asMeant?.({ ctx, input: things })) as readonly Fields[] | undefined) ?? things,
    check: async (things) => {
      const found = await store.faults({ ctx, input: things.map(changeOf) });
      return against(things, (thing) => {
        const own = onlooker?.against(thing) ?? [];
        const findings = [...own, ...(found.get(store.keyOf(thing.thing)) ?? [])];
        return wires ? wires.without(findings) : findings;
      });
    },
    write: async (all) => {
      const things = query.onlyNew === 'true' ? all.filter(({ result }) => result === 'new') : all;
      onlooker?.writes(things);
      await wires?.add(things);
      await store.write({ ctx, input: things.map(changeOf) });
    },
  });
  return { ...presentSummary(summary, true), wires: wires?.told() ?? { added: 0, codes: [] } };
}

/** A fit's key has spaces in a table, and slashes in the store. */
const stores = (key: string) => key.replaceAll(' ', '/');
const pairOf = (key: string, body: object | undefined): [string, object][] =>
  body === undefined ? [] : [[key, body]];
const changeOf = ({ thing, before }: Thing) => ({ body: thing, before });

function against(things: readonly Thing[], findingsOf: (thing: Thing) => readonly Finding[]): Against {
  const rows = new Map<number, readonly Finding[]>(unstorableIn(things));
  for (const thing of things)
    if (!rows.has(thing.row)) {
      const findings = findingsOf(thing);
      if (findings.length > 0) rows.set(thing.row, findings);
    }
  return { rows };
}

/** Wire parts that offers name by what they are: each is added with the first offer that is written. */
class MadeWires {
  readonly shorts: ClubShorts;
  readonly #ctx: Ctx;
  readonly #added = new Set<string>();

  constructor(ctx: Ctx, shorts: ClubShorts) {
    this.#ctx = ctx;
    this.shorts = shorts;
  }

  /** Findings without those of parts that come into being. */
  without(findings: readonly Finding[]): readonly Finding[] {
    if (!findings.some(({ code }) => code === 'unknown-part')) return findings;
    const made = new Set(this.shorts.made().map(({ code }) => JSON.stringify(code)));
    return findings.filter(({ code, found }) => code !== 'unknown-part' || !made.has(found));
  }

  async add(things: readonly Thing[]): Promise<void> {
    const named = new Set(
      things.flatMap(({ thing }) => offerParts(thing as unknown as Offer).map(({ part }) => part)),
    );
    const fresh = this.shorts.made().filter(({ code }) => named.has(code) && !this.#added.has(code));
    await parts.bulk.write({
      ctx: this.#ctx,
      input: fresh.map((body) => ({ body, before: undefined })),
    });
    for (const { code } of fresh) this.#added.add(code);
  }

  told(): TableImport['wires'] {
    return { added: this.#added.size, codes: [...this.#added].slice(0, MOST_CODES) };
  }
}
