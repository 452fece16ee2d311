import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { asClub } from '../../db/club.ts';
import { suppliers } from '../../db/suppliers.ts';
import * as schema from '../../db/schema/index.ts';
import { asSystem } from '../../db/system.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

const CLUBS = 3;
/** More at once than the house has connections: each connection goes from one club to another again and again. */
const AT_ONCE = 60;

let house: TestHouse;
let clubs: TestClub[];

beforeAll(async () => {
  house = await openHouse();
  clubs = [];
  for (let number = 0; number < CLUBS; number++) {
    const club = await house.club();
    clubs.push(club);
    const input = { code: `own-${number}`, name: 'Own', currency: 'GBP' } as Parameters<
      typeof suppliers.create
    >[0]['input'];
    await club.run((ctx) => suppliers.create({ ctx, input }));
  }
});
afterAll(() => house.close());

/** What a transaction sees of all clubs, without saying whose it wants. */
const codesSeen = (club: TestClub) =>
  club.run(async (ctx) => (await ctx.tx.select().from(schema.suppliers)).map(({ code }) => code));

const nothingSeen = () => house.database.db.transaction((tx) => tx.select().from(schema.suppliers));

describe('a transaction of a club', () => {
  test('sees its own rows and no others, however many go over the same connections at once', async () => {
    const seen = await Promise.all(
      Array.from({ length: AT_ONCE }, async (_unused, at) => {
        const codes = await codesSeen(clubs[at % CLUBS] as TestClub);
        return { codes, number: at % CLUBS };
      }),
    );
    for (const { codes, number } of seen) expect(codes).toEqual([`own-${number}`]);
  });

  test('leaves its club to nobody, also where it failed in its work, in SQL or was given up', async () => {
    const [club] = clubs as [TestClub];
    const ways: ((at: number) => Promise<unknown>)[] = [
      () =>
        club.run(() => {
          throw new Error('in its work');
        }),
      () => club.run((ctx) => ctx.tx.execute(sql`select 1 / 0`)),
      () => club.run((ctx) => ctx.tx.execute(sql`select nothing_of_the_kind`)),
      () =>
        asSystem(house.database, () => {
          throw new Error('as the service');
        }),
    ];
    const outcomes = await Promise.all(
      Array.from({ length: AT_ONCE }, async (_unused, at) => {
        const way = ways[at % ways.length] as (at: number) => Promise<unknown>;
        const failed = await way(at).then(
          () => false,
          () => true,
        );
        return { failed, rows: await nothingSeen() };
      }),
    );
    for (const outcome of outcomes) expect(outcome).toEqual({ failed: true, rows: [] });
    for (let time = 0; time < 12; time++)
      expect(await house.database.db.select().from(schema.suppliers)).toEqual([]);
  });

  test('is not begun for an id that is no club’s, and the next one is of the club that it names', async () => {
    const [club] = clubs as [TestClub];
    for (const id of ['', 'nobody', `${club.id}', true); select set_config('loomwright.system', 'on`]) {
      const asked = async () =>
        asClub(house.database, { ...club.ctx, club: id }, (ctx) => ctx.tx.select().from(schema.suppliers));
      const rows = await asked().catch(() => []);
      expect(rows).toEqual([]);
      expect(await nothingSeen()).toEqual([]);
    }
    expect(await codesSeen(club)).toEqual(['own-0']);
  });

  test('reads one moment where it is asked to, and its own rows alone there too', async () => {
    const [club] = clubs as [TestClub];
    const seen = await asClub(
      house.database,
      club.ctx,
      async (ctx) => (await ctx.tx.select().from(schema.suppliers)).map(({ code }) => code),
      { snapshot: true },
    );
    expect(seen).toEqual(['own-0']);
  });
});
