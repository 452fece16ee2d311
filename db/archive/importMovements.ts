import { and, eq, inArray, or } from 'drizzle-orm';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { insertMany } from '../insertMany.ts';
import { lastOf } from '../ledger.ts';
import { keepMovements } from '../movements.ts';
import { orders, quotes, stock, stockMovements as table } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import { movementEntry } from './exportOrders.ts';
import { notThere } from './notThere.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';

type Movement = EntryOf<'movement'>;
type PlacedMovement = Placed<Movement>;

/** Stock items that are looked up at once. */
const CHUNK = 5_000;
/** Faults that are told. */
const MOST_FINDINGS = 20;

const keyOf = ({ stock: code, number }: Pick<Movement, 'stock' | 'number'>) => `${code}/${number}`;

/** Writes those movements that the club does not have. One that has the id of another movement differs. */
export async function importMovements(ctx: Ctx, batch: PlacedMovement[], told: Tally): Promise<void> {
  const [first] = batch;
  if (!first) return;
  const codes = [...new Set(batch.map(({ entry }) => entry.stock))];
  const ids = batch.map(({ entry }) => entry.id);
  const numbers = [...new Set(batch.map(({ entry }) => entry.number))];
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        or(inArray(table.id, ids), and(inArray(table.stockCode, codes), inArray(table.number, numbers))),
      ),
    );
  const there = rows.map(movementEntry);
  const stored = new Map(there.map((entry) => [keyOf(entry), entry]));
  const taken = new Set(there.map(({ id }) => id));
  const fresh = batch.filter((placed) => {
    const { entry } = placed;
    const same = stored.get(keyOf(entry));
    const isNew = same === undefined && !taken.has(entry.id);
    taken.add(entry.id);
    told.count(isNew ? 'new' : same && isSame(same, entry) ? 'equal' : 'differs', placed);
    return isNew;
  });
  await insertMany(
    ctx,
    table,
    fresh.map(({ entry: { stock: stockCode, number, id, kind, change, balance, at, actor, body } }) => ({
      clubId: ctx.club,
      stockCode,
      number,
      id,
      kind,
      change,
      balance,
      movedAt: new Date(at),
      movedBy: actor,
      body,
    })),
  );
}

/** What a movement may name, and that must be there. */
const FIELDS = ['quote', 'order', 'offcut', 'cutFrom'] as const;
type Field = (typeof FIELDS)[number];

const FOUND: Record<Field, string> = {
  quote: 'the quote',
  order: 'the order',
  offcut: 'movements of the stock item',
  cutFrom: 'movements of the stock item',
};

/** Those of these names that are there. */
async function thoseThere(ctx: Ctx, field: Field, names: string[]): Promise<ReadonlySet<string>> {
  if (field === 'offcut' || field === 'cutFrom') return new Set((await lastOf(ctx, names)).keys());
  const named = field === 'quote' ? quotes : orders;
  const rows = await ctx.tx
    .select({ id: named.id })
    .from(named)
    .where(and(eq(named.clubId, ctx.club), inArray(named.id, names)));
  return new Set(rows.map(({ id }) => id));
}

export interface ShelfKeeper {
  /** Is asked of every batch. */
  see(batch: readonly Placed[]): void;
  /**
   * Is asked when all was read. Items that came without movements begin their ledger with what is there. Error: Invalid where
   * the movements of an item do not end with its count, or name a quote, an order or
   * another item that is not there.
   */
  end(): Promise<void>;
}

/** Sees to it that each count of the shelf is what its movements end with: items stand before these. */
export function shelfKeeper(ctx: Ctx): ShelfKeeper {
  /** The line of the last movement of each item, or of the item itself. */
  const lines = new Map<string, number>();
  const moved = new Set<string>();
  const named: { line: number; field: Field; name: string }[] = [];
  return {
    see: (batch) => {
      for (const { line, entry } of batch) {
        if (entry.type === 'stock') lines.set(entry.body.code, line);
        if (entry.type !== 'movement') continue;
        lines.set(entry.stock, line);
        moved.add(entry.stock);
        for (const field of FIELDS) {
          const name = entry.body[field];
          if (name !== undefined) named.push({ line, field, name });
        }
      }
    },
    end: async () => {
      const findings: Finding[] = [];
      for (const chunk of chunks([...lines.keys()])) {
        const rows = await ctx.tx
          .select({ code: stock.code, body: stock.body })
          .from(stock)
          .where(and(eq(stock.clubId, ctx.club), inArray(stock.code, chunk)));
        const items = new Map(rows.map(({ code, body }) => [code, body]));
        await keepMovements(
          ctx,
          rows.filter(({ code }) => !moved.has(code)).map(({ body }) => ({ body, before: undefined })),
        );
        const last = await lastOf(
          ctx,
          chunk.filter((code) => moved.has(code)),
        );
        for (const [code, { balance }] of last)
          findings.push(...miscounted(lines.get(code) ?? 0, code, balance, items.get(code)));
      }
      for (const field of FIELDS)
        for (const chunk of chunks(named.filter((each) => each.field === field))) {
          const there = await thoseThere(ctx, field, [...new Set(chunk.map(({ name }) => name))]);
          for (const { line, name } of chunk)
            if (!there.has(name)) findings.push(notThere(line, `body, ${field}`, FOUND[field], name));
        }
      if (findings.length > 0) throw new Invalid(findings.slice(0, MOST_FINDINGS));
    },
  };
}

function* chunks<T>(all: readonly T[]): Generator<T[]> {
  for (let start = 0; start < all.length; start += CHUNK) yield all.slice(start, start + CHUNK);
}

/** Where the movements of an item end with another count than the item has; one that is gone ends with none. */
function miscounted(line: number, code: string, balance: number, item: StockItem | undefined): Finding[] {
  const count = item?.count ?? 0;
  if (balance === count) return [];
  return [
    {
      code: 'not-its-count',
      severity: 'stop',
      at: '/balance',
      where: `line ${line}, balance`,
      found: String(balance),
      limit: String(count),
      todo: `The movements of the stock item ${code} end with ${balance}, but ${item ? `the item has the count ${count}` : 'the item is not there, so they end with 0'}. Take the archive again from where it came.`,
    },
  ];
}
