import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { asSystem } from '../../db/system.ts';
import { keys } from '../../db/schema/index.ts';
import { eq } from 'drizzle-orm';
import { turnsOf } from '../../api/http/turns.ts';
import { watchTasks, type Follower } from '../../api/http/watch.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, silent, type TestClub, type TestHouse, type TestMember } from '../support/house.ts';
import { askQuote } from '../support/taskRows.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let task: string;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  ({ task } = await askQuote(editor, 'loom'));
});
afterAll(() => house.close());

describe('an event stream', () => {
  test('is counted while it is open, and nothing of it is kept when its task has ended', async () => {
    const asked = await askQuote(editor, 'loom');
    const reading = editor.get(`/v1/tasks/${asked.task}/events`);
    await vi.waitFor(() => expect(house.watch.open()).toBe(1), { timeout: 10_000 });
    await editor.post(`/v1/tasks/${asked.task}/cancel`, undefined);
    expect((await reading).text).toContain('event: ended');
    expect(house.watch.open()).toBe(0);
  });

  test('ends when its key is revoked, by whichever process', async () => {
    const admin = await club.as('admin');
    const made = await admin.post('/v1/keys', { role: 'viewer', label: 'soon gone' });
    const { id, secret } = made.json<{ id: string; secret: string }>();
    const reading = house.anonymous
      .with({ authorization: `Bearer ${secret}` })
      .get(`/v1/tasks/${task}/events`);
    await vi.waitFor(() => expect(house.watch.open()).toBe(1), { timeout: 10_000 });
    // As another process would: this one hears of it from the row alone.
    await asSystem(house.database, (tx) =>
      tx.update(keys).set({ revokedAt: new Date() }).where(eq(keys.id, id)),
    );
    expect((await reading).text).not.toContain('event: ended');
    expect(house.watch.open()).toBe(0);
  });

  test.each([
    ['its key is renewed', ({ key }: TestMember) => `/v1/me/keys/${key}/renew`],
    ['its member leaves', ({ id }: TestMember) => `/v1/members/${id}/leave`],
  ])('ends when %s', async (_when, path) => {
    const member = await club.joined('viewer');
    const reading = member.client.get(`/v1/tasks/${task}/events`);
    await vi.waitFor(() => expect(house.watch.open()).toBe(1), { timeout: 10_000 });
    expect((await member.client.post(path(member), undefined)).status).toBeLessThan(300);
    expect((await reading).text).not.toContain('event: ended');
    expect(house.watch.open()).toBe(0);
  });

  test('is refused with 429 where a key or its club has too many open, and is let in when one closes', () => {
    const watch = watchTasks(house.database, silent, 3_600_000);
    const open = (key: string, club = 'ours') => watch.follow({ task, key, club });
    const many = (count: number, key: string) => Array.from({ length: count }, () => open(key));
    try {
      const [first] = many(100, 'a') as [Follower];
      expect(() => open('a')).toThrow(/At most 100 event streams of one key/);
      first.stop();
      open('a');
      many(100, 'b');
      many(100, 'c');
      expect(() => open('d')).toThrow(/300 of one club/);
      open('d', 'theirs');
    } finally {
      watch.close();
    }
    expect(watch.open()).toBe(0);
  });

  test('is ended, once, by a server that stops', () => {
    const watch = watchTasks(house.database, silent, 3_600_000);
    const onEnd = vi.fn();
    watch.follow({ task, key: 'a', club: 'ours' }).listen(() => undefined, onEnd);
    watch.close();
    watch.close();
    expect(onEnd).toHaveBeenCalledTimes(1);
  });
});

describe('places that clubs take in turns', () => {
  const LONG_MS = 3_600_000;

  test('are all for one club where nobody else wants one, and beyond these it is refused', async () => {
    const turns = turnsOf(2, LONG_MS);
    expect(await turns.take('a')).toBeDefined();
    expect(await turns.take('a')).toBeDefined();
    expect(await turns.take('a')).toBeUndefined();
  });

  test('go to another club next when one becomes free, whoever asks meanwhile', async () => {
    const turns = turnsOf(2, LONG_MS);
    const first = await turns.take('a');
    const second = await turns.take('a');
    const order: string[] = [];
    const waiting = ['b', 'c', 'b'].map(async (club) => {
      const free = await turns.take(club);
      order.push(club);
      return free;
    });
    expect(await turns.take('a')).toBeUndefined();
    first?.();
    await waiting[0];
    expect(order).toEqual(['b']);
    const again = turns.take('a').then((free) => (order.push('a'), free));
    second?.();
    const ofC = await waiting[1];
    // b holds one and a none: a goes before b's second.
    ofC?.();
    await again;
    expect(order).toEqual(['b', 'c', 'a']);
    turns.close();
    await Promise.all(waiting);
  });

  test('are not waited for beyond a time', async () => {
    const turns = turnsOf(1, 1);
    await turns.take('a');
    expect(await turns.take('b')).toBeUndefined();
  });
});
