import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { KeyRefused, newKey, type Wish } from '../../api/newKey.ts';
import { clubNames } from '../../db/clubs.ts';
import { asSystem } from '../../db/system.ts';
import { loadSmall } from '../support/fixtures.ts';
import { testFounder } from '../support/founder.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

const names = () => asSystem(house.database, clubNames);
const asked = (wish: Partial<Wish> & { club: string }) =>
  newKey(house.database, testFounder, {
    role: 'editor',
    label: 'of a test',
    make: false,
    currency: 'EUR',
    ...wish,
  });
const keyOpens = async (secret: string) =>
  (await house.anonymous.with({ authorization: `Bearer ${secret}` }).get('/v1/club')).json();

describe('a key that is made on the command line', () => {
  test('opens the club of that name', async () => {
    const club = await house.club();
    const { secret } = await asked({ club: club.name });
    expect(await keyOpens(secret)).toMatchObject({ name: club.name, currency: 'GBP' });
  });

  test('is not made for a club that is not there: nothing is made, and the nearest name is told', async () => {
    const club = await house.club();
    const before = await names();
    const typed = club.name.replace('Club', 'Clbu');
    await expect(asked({ club: typed })).rejects.toThrow(
      `There is no club “${typed}”. The nearest name there is: “${club.name}”. Correct the name, or add --new to make a new club.`,
    );
    await expect(asked({ club: typed })).rejects.toBeInstanceOf(KeyRefused);
    expect(await names()).toEqual(before);
  });

  test('opens a club that is made with it where that is wished, once', async () => {
    const name = `New club ${uuidv7()}`;
    const { secret } = await asked({ club: name, make: true });
    expect(await keyOpens(secret)).toMatchObject({ name, currency: 'EUR' });
    await expect(asked({ club: name, make: true })).rejects.toThrow(
      `The club “${name}” already exists. To make a key for it, leave out --new.`,
    );
    expect((await names()).filter((other) => other === name)).toHaveLength(1);
  });

  test('says that there is no club yet where there is none', async () => {
    const empty = await openHouse();
    try {
      await expect(
        newKey(empty.database, testFounder, {
          club: 'Ours',
          role: 'admin',
          label: 'first',
          make: false,
          currency: 'GBP',
        }),
      ).rejects.toThrow('There is no club yet. To make the club “Ours”, add --new.');
    } finally {
      await empty.close();
    }
  });
});

describe('a key that is made on the command line for a member', () => {
  const meOf = async (secret: string) =>
    (await house.anonymous.with({ authorization: `Bearer ${secret}` }).get('/v1/me')).json<{
      role: string;
      member?: { id: string; name: string; role: string };
    }>();

  test('belongs to the member of that name, who sees what they alone saw', async () => {
    const club = await house.club();
    const ada = await club.joined('editor', 'Ada');
    await loadSmall(ada.client);
    const loom = '/v1/looms/own';
    const body = { code: 'own', name: 'Own', parts: [{ part: 'ring-6', quantity: 1 }] };
    expect((await ada.client.post('/v1/looms?seenBy=owner', body)).status).toBe(201);
    const made = await asked({ club: club.name, member: 'Ada' });
    expect(made).toMatchObject({ member: { name: 'Ada', made: false }, role: 'editor' });
    expect(await meOf(made.secret)).toMatchObject({ role: 'editor', member: { id: ada.id, name: 'Ada' } });
    const opens = (secret: string) => house.anonymous.with({ authorization: `Bearer ${secret}` }).get(loom);
    expect((await opens(made.secret)).status).toBe(200);
    expect((await opens((await asked({ club: club.name })).secret)).status).toBe(404);
  });

  test('makes them a member with the role of the key where there is none of that name, or only one who has left', async () => {
    const club = await house.club();
    const bo = await club.joined('editor', 'Bo');
    expect((await bo.client.post(`/v1/members/${bo.id}/leave`, undefined)).status).toBe(200);
    const made = await asked({ club: club.name, member: 'Bo', role: 'member' });
    expect(made).toMatchObject({ member: { name: 'Bo', made: true }, role: 'member' });
    const me = await meOf(made.secret);
    expect(me).toMatchObject({ role: 'member', member: { name: 'Bo', role: 'member' } });
    expect(me.member?.id).not.toBe(bo.id);
  });

  test('opens no more than the member may', async () => {
    const club = await house.club();
    await club.joined('viewer', 'Cy');
    const made = await asked({ club: club.name, member: 'Cy', role: 'admin' });
    expect([made.role, (await meOf(made.secret)).role]).toEqual(['viewer', 'viewer']);
  });

  test('is not made where several have that name: nothing is made, and how to name one of them is told', async () => {
    const club = await house.club();
    for (const role of ['viewer', 'editor'] as const) await club.joined(role, 'Di');
    const admin = await club.as('admin');
    const keys = async () => (await admin.get('/v1/keys')).text;
    const before = await keys();
    const refused = asked({ club: club.name, member: 'Di' });
    await expect(refused).rejects.toBeInstanceOf(KeyRefused);
    await expect(refused).rejects.toThrow(/There are 2 members with the name “Di”.*POST \/v1\/keys/);
    expect(await keys()).toBe(before);
  });

  test('comes with its member and its club where all three are new', async () => {
    const club = `New club ${uuidv7()}`;
    const { secret } = await asked({ club, member: 'Ada', role: 'admin', make: true });
    expect(await meOf(secret)).toMatchObject({ role: 'admin', member: { name: 'Ada', role: 'admin' } });
  });
});
