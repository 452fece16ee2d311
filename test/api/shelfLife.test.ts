import { and, eq, sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { reservations, stock } from '../../db/schema/index.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import { quoted } from '../support/ordering.ts';
import { randomBelow } from '../support/randomBelow.ts';
import { auditSequence, auditShelf, liveThrough, STEP_NAMES, type Life } from '../support/shelfLife.ts';

/** `npm run test:shelf` lives through ten thousand in each mode. */
const SEQUENCES = Number(process.env['SHELF_SEQUENCES'] ?? 60);
const SEED = Number(process.env['SHELF_SEED'] ?? 20_261_128);
const MINUTES = 60_000;

let worked: TestHouse;
let house: TestHouse;
let found: Omit<Life, 'club' | 'below' | 'counts'>;
const looms = [{ loom: 'loom', quantity: 6 }];
const onShelf = [
  { code: 'rings', form: 'pieces', part: 'ring-6', count: 5 },
  { code: 'red', form: 'length', part: 'wire-red', count: 2, lengthMm: 700 },
];

async function furnished(of: TestHouse): Promise<TestClub> {
  const club = await of.club();
  const editor = await club.as('editor');
  await loadSmall(editor);
  for (const item of onShelf) expect((await editor.post('/v1/stock', item)).status).toBe(201);
  return club;
}

beforeAll(async () => {
  [worked, house] = [await openHouse(), await openHouse()];
  await worked.startWorker();
  const editor = await (await furnished(worked)).as('editor');
  const id = await quoted(editor, { looms });
  const read = async (what: string) => (await editor.get(`/v1/quotes/${id}/${what}`)).text;
  found = { looms, job: await read('job'), result: await read('result') };
  const { fromStock, purchases, cuttingPlans } = JSON.parse(found.result) as Record<string, unknown[]>;
  // Wire and rings are bought and taken off the shelf, and cut.
  expect([fromStock?.length, purchases?.length, cuttingPlans?.length]).toEqual([2, 2, 1]);
});
afterAll(async () => {
  await worked.close();
  await house.close();
});

const lifeOf = (club: TestClub, seed: number): Life => ({
  ...found,
  club,
  below: randomBelow(seed),
  counts: { done: new Map(), refused: 0 },
});

describe('whatever people do with their quotes, orders and shelf', () => {
  test(
    `the books are right after each of ${SEQUENCES} random sequences`,
    async () => {
      let club = await furnished(house);
      const done = new Map<string, number>();
      for (let sequence = 0; sequence < SEQUENCES; sequence++) {
        // A shelf does not grow for ever.
        if (sequence % 50 === 49) {
          expect((await auditShelf(club)).faults).toEqual([]);
          club = await furnished(house);
        }
        const life = lifeOf(club, SEED + sequence);
        const at = await liveThrough(life, 6);
        const { faults } = await auditSequence(life, at);
        expect({ seed: SEED + sequence, faults }).toEqual({ seed: SEED + sequence, faults: [] });
        for (const [name, times] of life.counts.done) done.set(name, (done.get(name) ?? 0) + times);
      }
      expect((await auditShelf(club)).faults).toEqual([]);
      // Each was done and not only refused.
      expect([...done.keys()].sort()).toEqual([...STEP_NAMES].sort());
    },
    Math.max(5, SEQUENCES) * MINUTES,
  );
});

testOnlyIn('service', 'PGlite has one connection, so that no two requests are under way at once')(
  'the books are right when four do so at once, on one shelf',
  async () => {
    const club = await furnished(house);
    const lives = [1, 2, 3, 4].map((seed) => lifeOf(club, SEED + seed));
    await Promise.all(
      lives.map(async (life) => {
        for (let sequence = 0; sequence < Math.max(3, SEQUENCES / 20); sequence++) {
          const { faults } = await auditSequence(life, await liveThrough(life, 6));
          expect(faults).toEqual([]);
        }
      }),
    );
    const { faults, movements } = await auditShelf(club);
    expect(faults).toEqual([]);
    expect(movements).toBeGreaterThan(20);
  },
  Math.max(5, SEQUENCES) * MINUTES,
);

test('books that are not right are found', async () => {
  const club = await furnished(house);
  const life = lifeOf(club, SEED);
  // A quote is accepted.
  await liveThrough(life, 0);
  const faults = async () => (await auditShelf(club)).faults;
  expect(await faults()).toEqual([]);
  await club.run((ctx) =>
    ctx.tx
      .update(reservations)
      .set({ count: 9 })
      .where(and(eq(reservations.clubId, ctx.club), eq(reservations.stockCode, 'red'))),
  );
  expect((await faults())[0]).toBe('red: 9 are kept of 4');
  await club.run((ctx) =>
    ctx.tx
      .update(stock)
      .set({ body: sql`jsonb_set(${stock.body}, '{count}', '99')` })
      .where(and(eq(stock.clubId, ctx.club), eq(stock.code, 'rings'))),
  );
  expect(await faults()).toContain('rings: the shelf has 99, the ledger 10');
});
