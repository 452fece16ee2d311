import { afterAll, beforeAll, beforeEach } from 'vitest';
import type { Client } from './client.ts';
import { loadSmall } from './fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from './house.ts';

/** For the tests of a file: a house with a worker, and before each test a club of its own with the small catalogue. */
export function inFreshClubs(
  begin: (fresh: { club: TestClub; editor: Client }) => void | Promise<void>,
): void {
  let house: TestHouse;
  beforeAll(async () => {
    house = await openHouse();
    await house.startWorker();
  });
  afterAll(() => house.close());
  beforeEach(async () => {
    const club = await house.club();
    const editor = await club.as('editor');
    await loadSmall(editor);
    await begin({ club, editor });
  });
}
