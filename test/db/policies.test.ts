import { getTableColumns, getTableName, is, sql } from 'drizzle-orm';
import { PgTable } from 'drizzle-orm/pg-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { storeResult } from '../../db/quotes.ts';
import * as schema from '../../db/schema/index.ts';
import { asSystem } from '../../db/system.ts';
import { newTask } from '../../db/tasks.ts';
import { loadSmall } from '../support/fixtures.ts';
import { frozenOrder } from '../support/frozenOrder.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let ours: TestClub;
let theirs: TestClub;
let quote: string;

const tables: PgTable[] = Object.values(schema as Record<string, unknown>).filter((value): value is PgTable =>
  is(value, PgTable),
);
const named = tables.map((table) => [getTableName(table), table] as const);

beforeAll(async () => {
  house = await openHouse();
  ours = await house.club();
  theirs = await house.club();
  await ours.run((ctx) =>
    ctx.tx.insert(schema.members).values({
      clubId: ours.id,
      id: ctx.newId(),
      name: 'Ada',
      role: 'member',
      joinedAt: ctx.now(),
    }),
  );
  await (await ours.as('admin')).post('/v1/invitations', { role: 'viewer' });
  const editor = await ours.as('editor');
  await ours.run((ctx) =>
    ctx.tx.insert(schema.searchMarks).values({ clubId: ours.id, thing: 'part', afterCode: '' }),
  );
  await editor.put('/v1/synonyms', { groups: [['lug', 'ring']] }, { 'if-match': '*' });
  await editor.post('/v1/parts', {
    kind: 'consumable',
    code: 'flux',
    description: 'Flux',
    numbers: 'Wrenfield 20 41 77-33',
  });
  await loadSmall(editor);
  await editor.post('/v1/fits', { from: 'ring-6', relation: 'takes', to: 'wire-red' });
  await ours.run((ctx) =>
    ctx.tx.insert(schema.fitReports).values({
      clubId: ours.id,
      fromPart: 'ring-6',
      relation: 'takes',
      toPart: 'wire-red',
      id: ctx.newId(),
      actor: ctx.actor,
      says: 'fits',
      at: ctx.now(),
    }),
  );
  await editor.post('/v1/rates', { code: 'eur', currency: 'EUR', on: '2026-11-02', rate: '0.85' });
  await editor.post('/v1/lanes', { code: 'home', from: 'GB', to: 'GB', taxPercent: 20 });
  await editor.post('/v1/stock', { code: 'shelf', form: 'pieces', part: 'ring-6', count: 4 });
  const asked = await editor.post(
    '/v1/quotes',
    { looms: [{ loom: 'loom', quantity: 1 }] },
    { 'idempotency-key': 'k' },
  );
  ({ id: quote } = asked.json<{ id: string }>());
  const result = JSON.stringify({ purchases: [{ offer: 'ring-pack' }] });
  const job = JSON.stringify({ offers: [{ code: 'ring-pack' }] });
  await ours.run((ctx) => storeResult({ ctx, input: { id: quote, job, jobHash: 'hash', result } }));
  await editor.post(`/v1/quotes/${quote}/winning-prices`, { offer: 'ring-pack' });
  const order = await frozenOrder(ours, quote);
  await ours.run((ctx) =>
    ctx.tx.insert(schema.reservations).values({
      clubId: ctx.club,
      stockCode: 'shelf',
      quoteId: quote,
      id: ctx.newId(),
      count: 1,
      madeAt: ctx.now(),
      madeBy: ctx.actor,
    }),
  );
  await ours.run((ctx) =>
    ctx.tx.insert(schema.orderEntries).values({
      clubId: ctx.club,
      id: ctx.newId(),
      orderId: order,
      kind: 'charges',
      body: { kind: 'charges' },
      madeAt: ctx.now(),
      madeBy: ctx.actor,
    }),
  );
  await ours.run((ctx) =>
    ctx.tx.insert(schema.receipts).values({
      clubId: ours.id,
      id: ctx.newId(),
      orderId: order,
      body: { day: '2026-11-02', lines: [] },
      madeAt: ctx.now(),
      madeBy: ctx.actor,
    }),
  );
});
afterAll(() => house.close());

describe('row-level security', () => {
  test('has tables to hold', () => expect(tables.length).toBeGreaterThanOrEqual(18));

  test.each(named)('gives an unscoped query no row of %s, though there are some', async (_name, table) => {
    expect(await ours.run((ctx) => ctx.tx.select().from(table))).not.toEqual([]);
    expect(await house.database.db.select().from(table)).toEqual([]);
    expect(await house.database.db.transaction((tx) => tx.select().from(table))).toEqual([]);
  });

  test.each(named)('gives another club no row of %s', async (name, table) => {
    const rows = await theirs.run((ctx) => ctx.tx.select().from(table));
    const clubs = rows.map(
      (row) => (row as { clubId?: string; id?: string })[name === 'clubs' ? 'id' : 'clubId'],
    );
    expect(clubs.every((club) => club === theirs.id)).toBe(true);
  });

  test.each(named)('lets an unscoped statement change and remove nothing in %s', async (_name, table) => {
    const before = await ours.run((ctx) => ctx.tx.select().from(table));
    expect(await house.database.db.delete(table).returning()).toEqual([]);
    expect(await ours.run((ctx) => ctx.tx.select().from(table))).toEqual(before);
  });

  test('lets no club write a row of another', async () => {
    const write = theirs.run((ctx) =>
      ctx.tx.insert(schema.audit).values({
        clubId: ours.id,
        id: ctx.newId(),
        at: ctx.now(),
        actor: 'x',
        requestId: 'x',
        action: 'x',
        subject: 'x',
        thing: 'x',
      }),
    );
    await expect(write).rejects.toMatchObject({ cause: { code: '42501' } });
  });

  test('lets no club hang a row on a loom of another', async () => {
    const point = theirs.run((ctx) =>
      ctx.tx
        .insert(schema.loomParts)
        .values({ clubId: theirs.id, loomCode: 'loom', revision: 1, partCode: 'ring-6' }),
    );
    await expect(point).rejects.toMatchObject({ cause: { code: '42501' } });
  });

  test('lets no club join its part with one of another', async () => {
    const join = theirs.run(async (ctx) => {
      const body = { from: 'ring-6', relation: 'takes', to: 'wire-red', status: 'proposed' } as const;
      const entry = { body, version: 1, createdAt: ctx.now(), updatedAt: ctx.now() };
      await ctx.tx
        .insert(schema.fits)
        .values({ clubId: theirs.id, fromPart: 'ring-6', relation: 'takes', toPart: 'wire-red', ...entry });
    });
    await expect(join).rejects.toMatchObject({ cause: { code: '23503' } });
  });

  test('lets no club put a part of another on its shelf', async () => {
    const shelve = theirs.run(async (ctx) => {
      const body = { code: 'shelf', form: 'pieces', part: 'ring-6', count: 1 } as const;
      const entry = { body, version: 1, createdAt: ctx.now(), updatedAt: ctx.now() };
      await ctx.tx
        .insert(schema.stock)
        .values({ clubId: theirs.id, code: 'shelf', partCode: 'ring-6', ...entry });
    });
    await expect(shelve).rejects.toMatchObject({ cause: { code: '23503' } });
  });

  test('lets no club ask for a price of another’s quote', async () => {
    const ask = theirs.run(async (ctx) => {
      const task = await newTask({
        ctx,
        input: {
          kind: 'winningPrice',
          subject: quote,
          offerCode: 'ring-pack',
          ownerId: null,
          private: false,
        },
      });
      await ctx.tx.insert(schema.winningPrices).values({
        clubId: theirs.id,
        quoteId: quote,
        offerCode: 'ring-pack',
        taskId: task.id,
        createdAt: ctx.now(),
        createdBy: 'x',
      });
    });
    await expect(ask).rejects.toMatchObject({ cause: { code: '42501' } });
  });

  test('keeps the service itself from catalogues, looms and quotes', async () => {
    for (const table of [
      schema.parts,
      schema.suppliers,
      schema.offers,
      schema.fits,
      schema.rates,
      schema.lanes,
      schema.stock,
      schema.stockMovements,
      schema.reservations,
      schema.looms,
      schema.loomRevisions,
      schema.quotes,
      schema.winningPrices,
      schema.offerPrices,
      schema.offerPriceParts,
      schema.quoteOffers,
      schema.orders,
      schema.orderSteps,
      schema.receipts,
      schema.orderEntries,
    ])
      expect(await asSystem(house.database, (tx) => tx.select().from(table))).toEqual([]);
  });

  test('ends with the transaction: the next query on the same connection is unscoped again', async () => {
    await ours.run((ctx) => ctx.tx.select().from(schema.parts));
    for (let attempt = 0; attempt < 12; attempt++)
      expect(await house.database.db.select().from(schema.parts)).toEqual([]);
  });

  test('is forced on every table that the database has', async () => {
    const rows = await ours.run((ctx) =>
      ctx.tx
        .select({
          name: sql<string>`relname`,
          forced: sql<boolean>`relrowsecurity and relforcerowsecurity`,
        })
        .from(sql`pg_class`)
        .where(
          sql`relkind = 'r' and relnamespace = 'public'::regnamespace and relname <> 'loomwright_migrations'`,
        ),
    );
    expect(rows.filter((row) => !row.forced)).toEqual([]);
    expect(rows.map((row) => row.name).sort()).toEqual(named.map(([name]) => name).sort());
  });
});

test.each(named)('the columns of %s are those that the migrations made', async (name, table) => {
  const rows = await ours.run((ctx) =>
    ctx.tx
      .select({ column: sql<string>`column_name`, nullable: sql<string>`is_nullable` })
      .from(sql`information_schema.columns`)
      .where(sql`table_schema = 'public' and table_name = ${name}`),
  );
  const made = rows.map((row) => `${row.column}${row.nullable === 'YES' ? '?' : ''}`).sort();
  const declared = Object.values(getTableColumns(table))
    .map((column) => `${column.name}${column.notNull ? '' : '?'}`)
    .sort();
  expect(declared).toEqual(made);
});

test('every write leaves an audit row of who did what', async () => {
  const rows = await ours.run((ctx) => ctx.tx.select().from(schema.audit));
  expect(rows.map((row) => `${row.action} ${row.subject}`)).toEqual(
    expect.arrayContaining([
      'part.create ring-6',
      'supplier.create shop',
      'offer.create red-metre',
      'fit.create ring-6/takes/wire-red',
      'rate.create eur',
      'lane.create home',
      'stock-item.create shelf',
      'loom.create loom/1',
      `winning-price.ask ${quote}/ring-pack`,
    ]),
  );
  expect(
    rows.filter((row) => row.action === 'part.create').every((row) => row.actor.startsWith('key:')),
  ).toBe(true);
});
