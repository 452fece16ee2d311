import postgres from 'postgres';
import { afterAll, beforeAll, beforeEach, expect } from 'vitest';
import type { Ctx } from '../../db/club.ts';
import { mergeParts } from '../../db/merge.ts';
import { offers } from '../../db/offers.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, ring, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());
beforeEach(async () => {
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  await editor.post('/v1/parts', { ...ring, code: 'ring-m6' });
});

const testService = testOnlyIn('service', 'the embedded database does one thing at a time');
const late = { ...ringOffer, code: 'late' };

/** Does work in a transaction that stays open until something else, begun meanwhile, waits for it. */
async function heldWhile<T>(work: (ctx: Ctx) => Promise<unknown>, begin: () => Promise<T>): Promise<T> {
  let begun: Promise<T> | undefined;
  await club.run(async (ctx) => {
    await work(ctx);
    begun = begin();
    await untilOneWaits();
  });
  return begun as Promise<T>;
}

/** Returns once a connection to this database waits for a lock of another. */
async function untilOneWaits(): Promise<void> {
  const { DATABASE_URL = '' } = house.environment as { DATABASE_URL?: string };
  const sql = postgres(DATABASE_URL, { max: 1 });
  try {
    const waiting = () => sql`select 1 from pg_stat_activity
      where datname = current_database() and wait_event_type = 'Lock'`;
    while ((await waiting()).length === 0);
  } finally {
    await sql.end();
  }
}

async function partsOnOffer(): Promise<Record<string, string>> {
  const { items } = (await editor.get('/v1/offers')).json<{ items: { code: string; part: string }[] }>();
  return Object.fromEntries(items.map(({ code, part }) => [code, part]));
}

testService(
  'an offer that is put in while its part is being merged names the part that stays, or is refused',
  async () => {
    const got = await heldWhile(
      (ctx) => mergeParts({ ctx, input: { part: 'ring-6', into: 'ring-m6', version: 'any' } }),
      () => editor.post('/v1/offers', late),
    );
    expect(Object.values(await partsOnOffer())).not.toContain('ring-6');
    expect(got.status, got.text).toBeLessThan(500);
    // Put in again, it names the part that stays.
    await editor.post('/v1/offers', late);
    expect(await partsOnOffer()).toMatchObject({ late: 'ring-m6', 'ring-pack': 'ring-m6' });
  },
);

testService('a merge waits for an offer of its part that is being put in, and renames it', async () => {
  const tag = { 'if-match': (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '' };
  const got = await heldWhile(
    (ctx) => offers.create({ ctx, input: Offer.parse(late) }),
    () => editor.post('/v1/parts/ring-6/merge', { into: 'ring-m6' }, tag),
  );
  expect([got.status, got.json()['offers']]).toEqual([200, ['late', 'ring-pack']]);
  expect(await partsOnOffer()).toEqual({ late: 'ring-m6', 'ring-pack': 'ring-m6', 'red-metre': 'wire-red' });
});
