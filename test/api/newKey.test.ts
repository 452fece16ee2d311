import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { KeyRefused, newKey, type Wish } from '../../api/newKey.ts';
import { clubNames } from '../../db/clubs.ts';
import { asSystem } from '../../db/system.ts';
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
