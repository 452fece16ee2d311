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
import { rates } from '../../db/rates.ts';
import { stock } from '../../db/stock.ts';
import { asSystem } from '../../db/system.ts';
import { versionOf } from '../../db/version.ts';
import { Lane } from '../../worker/engine/model/lane.ts';
import { freshDatabase } from '../support/database.ts';
import { firstMigration } from '../support/firstMigration.ts';
import { redWire, ring } from '../support/fixtures.ts';
import { testFounder } from '../support/founder.ts';
import { testMode } from '../support/mode.ts';

/** A club as the first version keeps it. */
const OLD_CLUB = `insert into clubs (id, name, currency, settings, created_at)
  values ('01890000-0000-7000-8000-000000000001', 'Old club', 'GBP', '{"slackPercent": 4}', '2026-01-02T03:04:05Z')`;

/** A database that was made by the first version and has a club in it, opened by this one. */
async function madeByTheFirst(): Promise<Database> {
  const config = firstMigration();
  if (testMode() === 'embedded') {
    const old = await PGlite.create();
    await migratePglite(drizzlePglite(old), config);
    await old.exec(OLD_CLUB);
    const dump = await old.dumpDataDir('none');
    await old.close();
    return connectMemory(dump);
  }
  const { url, drop } = await freshDatabase();
  onTestFinished(drop);
  const client = postgres(url, { max: 1, onnotice: () => undefined });
  await migratePostgres(drizzlePostgres(client), config);
  await client.unsafe(`set loomwright.system = 'on'; ${OLD_CLUB}`);
  await client.end();
  return connectService({ url, maxConnections: 2 });
}

test('a database of the first version is brought up to date when it is opened, and its club keeps fits, rates, lanes and stock in it', async () => {
  const database = await madeByTheFirst();
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
