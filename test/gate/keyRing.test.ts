import { describe, expect, test } from 'vitest';
import { keyRing } from '../../api/http/keyRing.ts';
import { hashOfSecret, type Key } from '../../db/keys.ts';

const SECRET = 'lw_secret';

function keyNamed(id: string): Key {
  return {
    id,
    clubId: 'club',
    role: 'viewer',
    label: id,
    createdAt: new Date(0),
    revokedAt: null,
    memberId: null,
  };
}

/** A ring over stored keys by secret, with a clock that stands until it is moved. Looks wait while the gate is shut. */
function ringOver(stored: Record<string, string>, options?: { goodMs?: number; mostKept?: number }) {
  const world = { at: 0, looks: 0, held: undefined as Promise<void> | undefined, away: false };
  const byHash = () => new Map(Object.entries(stored).map(([secret, id]) => [hashOfSecret(secret), id]));
  const ring = keyRing(
    async (hash) => {
      world.looks++;
      if (world.away) throw new Error('away');
      const id = byHash().get(hash);
      await world.held;
      return id === undefined ? undefined : keyNamed(id);
    },
    () => world.at,
    options,
  );
  return { ring, world, stored };
}

describe('a key that was looked up', () => {
  test('is not looked up again before its time is over, and is after that', async () => {
    const { ring, world, stored } = ringOver({ [SECRET]: 'a' }, { goodMs: 1500 });
    expect((await ring.find(SECRET))?.id).toBe('a');
    delete stored[SECRET];
    world.at = 1499;
    expect((await ring.find(SECRET))?.id).toBe('a');
    expect(world.looks).toBe(1);
    world.at = 1500;
    expect(await ring.find(SECRET)).toBeUndefined();
  });

  test('is good from the moment before it was looked up, however long that took', async () => {
    const { ring, world, stored } = ringOver({ [SECRET]: 'a' }, { goodMs: 1500 });
    let open: () => void = () => undefined;
    world.held = new Promise((resolve) => (open = resolve));
    const found = ring.find(SECRET);
    world.at = 1400;
    open();
    await found;
    delete stored[SECRET];
    world.at = 1500;
    expect(await ring.find(SECRET)).toBeUndefined();
  });

  test('is good for less than the 2 s after which another process’s revocation must hold', async () => {
    const { ring, world, stored } = ringOver({ [SECRET]: 'a' });
    await ring.find(SECRET);
    delete stored[SECRET];
    world.at = 1_999;
    expect(await ring.find(SECRET)).toBeUndefined();
  });

  test('opens nothing once it is forgotten', async () => {
    const { ring, stored } = ringOver({ [SECRET]: 'a' });
    await ring.find(SECRET);
    delete stored[SECRET];
    ring.forget('a');
    expect(await ring.find(SECRET)).toBeUndefined();
  });

  test('is not kept by a look that began before it was forgotten, nor found by it afterwards', async () => {
    const { ring, world, stored } = ringOver({ [SECRET]: 'a' });
    let open: () => void = () => undefined;
    world.held = new Promise((resolve) => (open = resolve));
    const early = ring.find(SECRET);
    delete stored[SECRET];
    ring.forget('a');
    const late = ring.find(SECRET);
    open();
    expect((await early)?.id).toBe('a');
    expect(await late).toBeUndefined();
    expect(await ring.find(SECRET)).toBeUndefined();
  });

  test('is told to all who ask meanwhile by one look', async () => {
    const { ring, world } = ringOver({ [SECRET]: 'a' });
    const found = await Promise.all(Array.from({ length: 20 }, () => ring.find(SECRET)));
    expect(found.map((key) => key?.id)).toEqual(Array(20).fill('a'));
    expect(world.looks).toBe(1);
  });
});

describe('a key that opens nothing', () => {
  test('is looked up each time, so that it opens as soon as it is made', async () => {
    const { ring, world, stored } = ringOver({});
    expect(await ring.find(SECRET)).toBeUndefined();
    expect(await ring.find(SECRET)).toBeUndefined();
    expect(world.looks).toBe(2);
    stored[SECRET] = 'a';
    expect((await ring.find(SECRET))?.id).toBe('a');
  });

  test('is not looked up where that is refused; one that was good before is', async () => {
    const { ring, world } = ringOver({ [SECRET]: 'a' }, { goodMs: 10 });
    const refuse = () => {
      throw new Error('refused');
    };
    await expect(ring.find('lw_other', refuse)).rejects.toThrow('refused');
    await expect(ring.find(SECRET, refuse)).rejects.toThrow('refused');
    expect(world.looks).toBe(0);
    await ring.find(SECRET);
    world.at = 1000;
    expect((await ring.find(SECRET, refuse))?.id).toBe('a');
  });
});

test('a look that fails is told, and the next one is made anew', async () => {
  const { ring, world } = ringOver({ [SECRET]: 'a' });
  world.away = true;
  await expect(ring.find(SECRET)).rejects.toThrow('away');
  world.away = false;
  expect((await ring.find(SECRET))?.id).toBe('a');
});

test('no more keys are kept than stated; the one looked up longest ago leaves', async () => {
  const { ring, world } = ringOver({ a: 'a', b: 'b', c: 'c' }, { mostKept: 2 });
  for (const secret of ['a', 'b', 'c']) await ring.find(secret);
  expect(world.looks).toBe(3);
  await ring.find('b');
  await ring.find('c');
  expect(world.looks).toBe(3);
  await ring.find('a');
  expect(world.looks).toBe(4);
});
