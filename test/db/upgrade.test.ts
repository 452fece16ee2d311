import { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator';
import postgres from 'postgres';
import { expect, onTestFinished, test } from 'vitest';
import { asClub } from '../../db/club.ts';
import { clubNamed, getClub, setClubTerms } from '../../db/clubs.ts';
import { connectMemory, connectService, type Database } from '../../db/connect.ts';
import { allFits, createFit } from '../../db/fits.ts';
import { lanes } from '../../db/lanes.ts';
import { parts } from '../../db/parts.ts';
import { courseOfPart } from '../../db/priceCourses.ts';
import { rates } from '../../db/rates.ts';
import { offerPrices, quoteOffers } from '../../db/schema/index.ts';
import { stock } from '../../db/stock.ts';
import { asSystem } from '../../db/system.ts';
import { versionOf } from '../../db/version.ts';
import { Lane } from '../../worker/engine/model/lane.ts';
import { freshDatabase } from '../support/database.ts';
import { firstMigration, migrationsAt } from '../support/firstMigration.ts';
import { redWire, ring, ringOffer, shop } from '../support/fixtures.ts';
import { testFounder } from '../support/founder.ts';
import { testMode } from '../support/mode.ts';

/** A club as the first version keeps it. */
const OLD_CLUB = `insert into clubs (id, name, currency, settings, created_at)
  values ('01890000-0000-7000-8000-000000000001', 'Old club', 'GBP', '{"slackPercent": 4}', '2026-01-02T03:04:05Z')`;

/** A database that was made by these migrations and has this in it, opened by this version. */
async function madeBy(config: ReturnType<typeof migrationsAt>, content: string): Promise<Database> {
  if (testMode() === 'embedded') {
    const old = await PGlite.create();
    await migratePglite(drizzlePglite(old), config);
    await old.exec(content);
    const dump = await old.dumpDataDir('none');
    await old.close();
    return connectMemory(dump);
  }
  const { url, drop } = await freshDatabase();
  onTestFinished(drop);
  const client = postgres(url, { max: 1, onnotice: () => undefined });
  await migratePostgres(drizzlePostgres(client), config);
  await client.unsafe(`set loomwright.system = 'on'; ${content}`);
  await client.end();
  return connectService({ url, maxConnections: 2 });
}

test('a database of the first version is brought up to date when it is opened, and its club keeps fits, rates, lanes and stock in it', async () => {
  const database = await madeBy(firstMigration(), OLD_CLUB);
  onTestFinished(() => database.close());
  const { club, made } = await asSystem(database, (tx) =>
    clubNamed(tx, testFounder, { name: 'Old club', currency: 'GBP' }),
  );
  expect([made, club.country]).toEqual([false, null]);
  const input = { from: 'ring-6', relation: 'takes', to: 'wire-red', status: 'confirmed' } as const;
  await asClub(database, { ...testFounder, club: club.id }, async (ctx) => {
    for (const part of [ring, redWire]) await parts.create({ ctx, input: part });
    await createFit({ ctx, input });
    expect(await allFits({ ctx })).toEqual([input]);
    const terms = { currency: 'CHF', country: 'CH', settings: club.settings, version: [versionOf(club)] };
    await setClubTerms({ ctx, input: terms });
    expect(await getClub({ ctx })).toMatchObject({
      currency: 'CHF',
      country: 'CH',
      settings: { slackPercent: 4 },
    });
    const rate = { code: 'eur', currency: 'EUR', on: '2026-11-02', rate: '0.95' };
    const lane = Lane.parse({ code: 'in', from: 'DE', to: 'CH' });
    const item = { code: 'jar', form: 'pieces', part: 'ring-6', count: 3 } as const;
    await rates.create({ ctx, input: rate });
    await lanes.create({ ctx, input: lane });
    await stock.create({ ctx, input: item });
    expect([await rates.all({ ctx }), await lanes.all({ ctx }), await stock.all({ ctx })]).toEqual([
      [rate],
      [lane],
      [item],
    ]);
  });
});

/** As the version before prices were kept has them: offers that state when they were seen or do not, and quotes with and without results. */
const BEFORE_PRICES = `
  select set_config('loomwright.club', '01890000-0000-7000-8000-000000000001', false);
  ${OLD_CLUB};
  insert into parts (club_id, code, body, version, created_at, updated_at)
    select id, 'ring-6', '${JSON.stringify(ring)}', 1, created_at, created_at from clubs;
  insert into suppliers (club_id, code, body, version, created_at, updated_at)
    select id, 'shop', '${JSON.stringify(shop)}', 1, created_at, created_at from clubs;
  insert into offers (club_id, code, supplier_code, body, version, created_at, updated_at, created_by, updated_by)
    select id, code, 'shop', body::jsonb, 2, created_at, '2026-03-04T23:30:00Z', 'key:maker', changer
    from clubs, (values
      ('seen', '${JSON.stringify({ ...ringOffer, code: 'seen', seenOn: '2026-02-01' })}', 'member:changer'),
      ('unseen', '${JSON.stringify({ ...ringOffer, code: 'unseen' })}', null)) as given (code, body, changer);
  insert into offer_parts (club_id, offer_code, part_code) select club_id, code, 'ring-6' from offers;
  insert into tasks (club_id, id, kind, subject, state, woken_at, progress, created_at)
    select clubs.id, task, 'quote', task, 'done', created_at, '{}', created_at from clubs, (values
      ('01890000-0000-7000-8000-00000000000a'::uuid), ('01890000-0000-7000-8000-00000000000b'),
      ('01890000-0000-7000-8000-00000000000c')) as given (task);
  insert into quotes (club_id, id, task_id, as_of, request, result, created_at, created_by)
    select tasks.club_id, id, id, '2026-03-05', '{"looms":[]}', case right(id::text, 1)
      when 'a' then '{"purchases":[{"offer":"seen"},{"offer":"gone"},{"offer":"seen"}]}'
      when 'b' then '{"unsourced":[]}' end, created_at, 'key:maker' from tasks`;

test('offers of a version that kept no prices have theirs on its day, and what finished quotes buy is known', async () => {
  const database = await madeBy(migrationsAt(9), BEFORE_PRICES);
  onTestFinished(() => database.close());
  const club = '01890000-0000-7000-8000-000000000001';
  await asClub(database, { ...testFounder, club, whole: true }, async (ctx) => {
    const prices = await ctx.tx.select().from(offerPrices).orderBy(offerPrices.offerCode);
    const changed = new Date('2026-03-04T23:30:00Z');
    expect(prices).toMatchObject([
      {
        offerCode: 'seen',
        number: 1,
        seenFirst: '2026-02-01',
        seenLast: '2026-02-01',
        seen: true,
        goneOn: null,
        putInAt: changed,
        putInBy: 'member:changer',
        body: { packPrice: ringOffer.packPrice },
      },
      {
        offerCode: 'unseen',
        number: 1,
        seenFirst: '2026-03-04',
        seenLast: '2026-03-04',
        seen: false,
        putInAt: changed,
        putInBy: 'key:maker',
      },
    ]);
    const bought = await ctx.tx.select().from(quoteOffers).orderBy(quoteOffers.offerCode);
    expect(bought.map(({ quoteId, offerCode }) => [quoteId.at(-1), offerCode])).toEqual([
      ['a', 'gone'],
      ['a', 'seen'],
    ]);
    const course = await courseOfPart({ ctx, input: { code: 'ring-6' } });
    expect(JSON.stringify(course)).toContain('"2026-02-01"');
  });
});
