import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, expect } from 'vitest';
import { asClub } from '../../db/club.ts';
import { parts } from '../../db/parts.ts';
import { refreshStatistics } from '../../db/statistics.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { manyParts } from '../support/manyParts.ts';
import { testOnlyIn } from '../support/mode.ts';

let house: TestHouse;
let club: TestClub;
beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
});
afterAll(() => house.close());

const store = (from: number, to: number) =>
  asClub(house.database, club.ctx, (ctx) =>
    parts.bulk.write({
      ctx,
      input: manyParts(to)
        .slice(from)
        .map((body) => ({ body, before: undefined })),
    }),
  );

/** How many rows the planner thinks that a table has; -1: it knows nothing. */
async function thought(table: string): Promise<number> {
  const [row] = await house.database.db.transaction((tx) =>
    tx.select({ rows: sql<number>`reltuples` }).from(sql`pg_class where relname = ${table}`),
  );
  return Number(row?.rows);
}

const embedded = testOnlyIn('embedded', 'PostgreSQL keeps its statistics by itself');

embedded('the planner learns of a table that has grown, and of no other', async () => {
  await refreshStatistics(house.database);
  await store(0, 1000);
  const refreshed = await refreshStatistics(house.database);
  expect(refreshed).toContain('parts');
  expect(refreshed).not.toContain('suppliers');
  expect(await thought('parts')).toBe(1000);
  expect(await refreshStatistics(house.database)).toEqual([]);
});

embedded('after it the one connection is held by the policies as before', async () => {
  await store(1000, 2000);
  expect(await refreshStatistics(house.database)).toContain('parts');
  const seen = await house.database.db.transaction((tx) =>
    tx.select({ n: sql`count(*)::int` }).from(sql`parts`),
  );
  expect(seen).toEqual([{ n: 0 }]);
});

const service = testOnlyIn('service', 'PGlite needs it');

service('PostgreSQL is left alone', async () => {
  await store(0, 1000);
  expect(await refreshStatistics(house.database)).toEqual([]);
});
