import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { claimNext, LOST_UNTIL_ALONE } from '../../db/turns.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { anHourAgo, askQuote, endOpenTasks, setTask, taskRow } from '../support/taskRows.ts';

let house: TestHouse;
let clubs: Client[];

beforeAll(async () => {
  house = await openHouse({ queuePerClub: 5 });
  clubs = [];
  for (let n = 0; n < 3; n++) {
    const member = await (await house.club()).as('editor');
    await loadSmall(member);
    clubs.push(member);
  }
});
beforeEach(() => endOpenTasks(house.database));
afterAll(() => house.close());

/** Tasks of the clubs of these numbers, asked for in this order; says later whose a task is. */
async function ask(...whose: number[]): Promise<Map<string, number>> {
  const tasks = new Map<string, number>();
  for (const club of whose) {
    const member = clubs[club];
    if (member) tasks.set((await askQuote(member, 'loom')).task, club);
  }
  return tasks;
}

async function claim(free = true): Promise<string> {
  const claim = await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free });
  return claim.outcome === 'claimed' ? claim.task.id : claim.outcome;
}

async function claims(count: number, whose: Map<string, number>): Promise<(number | string)[]> {
  const order = [];
  for (let n = 0; n < count; n++) {
    const id = await claim();
    order.push(whose.get(id) ?? id);
  }
  return order;
}

const runOut = (id: string) => setTask(house.database, id, { leaseUntil: anHourAgo });

describe('the next task', () => {
  test('is one of each club in turn, however many each has waiting and whoever asked first', async () => {
    const whose = await ask(0, 0, 0, 0, 1, 1, 2);
    const order = await claims(7, whose);
    // As long as a club has tasks, no other gets two more of them taken.
    expect([...order.slice(0, 3)].sort()).toEqual([0, 1, 2]);
    expect([...order.slice(3, 5)].sort()).toEqual([0, 1]);
    expect(order.slice(5)).toEqual([0, 0]);
    expect(await claim()).toBe('nothingToDo');
  });

  test('is of the club that was served longest ago, where each has as many in hand', async () => {
    const first = await ask(0, 1);
    const [last] = (await claims(2, first)).slice(-1);
    await endOpenTasks(house.database);
    const whose = await ask(Number(last), 1 - Number(last));
    expect(await claims(1, whose)).toEqual([1 - Number(last)]);
  });

  test('is the oldest of its club', async () => {
    const whose = await ask(0, 0, 0);
    const taken = [await claim(), await claim(), await claim()];
    expect(taken).toEqual([...whose.keys()]);
  });

  test('is one whose worker was lost, before all that wait', async () => {
    const whose = await ask(0, 0, 0, 0, 0);
    const lost = await claim();
    const others = await ask(1, 2);
    await runOut(lost);
    expect(await claim()).toBe(lost);
    expect(await claims(2, others)).not.toContain(lost);
    expect(whose.get(lost)).toBe(0);
  });

  test('is worked alone after it was lost so often, and has no place before others then', async () => {
    const [id = ''] = (await ask(0)).keys();
    for (let lost = 0; lost < LOST_UNTIL_ALONE; lost++) {
      expect(await claim(lost === 0)).toBe(id);
      await runOut(id);
      if (lost + 1 === LOST_UNTIL_ALONE) expect(await claim(false)).toBe('wantsAlone');
    }
    expect(await claim()).toBe(id);
    expect(await taskRow(house.database, id)).toMatchObject({ lost: LOST_UNTIL_ALONE, alone: true });
    await runOut(id);
    const whose = await ask(1);
    expect(await claims(1, whose)).toEqual([1]);
  });

  test('is never the same for two that ask at once', async () => {
    await ask(0, 0, 1, 1, 2);
    const taken = await Promise.all(Array.from({ length: 5 }, () => claim()));
    const again: string[] = [];
    // Where two looked at the same task, one went away empty and asks again.
    for (let n = taken.filter((id) => id === 'nothingToDo').length; n > 0; n--) again.push(await claim());
    const all = [...taken.filter((id) => id !== 'nothingToDo'), ...again];
    expect(new Set(all).size).toBe(5);
    expect(all).not.toContain('nothingToDo');
  });
});

describe('the queue of a club', () => {
  test('takes no more than its limit: 429, a time to come back, and nothing is stored; others go on', async () => {
    const [full, other] = clubs;
    if (!full || !other) throw new Error('there are no clubs');
    const body = { looms: [{ loom: 'loom', quantity: 1 }] };
    const key = { 'idempotency-key': uuidv7() };
    const first = await full.post('/v1/quotes', body, key);
    for (let n = 1; n < 5; n++) await askQuote(full, 'loom');
    const refused = await full.post('/v1/quotes', body);
    expect(refused.status).toBe(429);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(refused.json<{ detail: string }>().detail).toMatch(/^5 tasks of your club are waiting/);
    expect(await claims(1, new Map())).toHaveLength(1);
    // One is being worked now: there is room for one more.
    await askQuote(full, 'loom');
    expect((await full.post('/v1/quotes', body)).status).toBe(429);
    await askQuote(other, 'loom');
    const replayed = await full.post('/v1/quotes', body, key);
    expect([replayed.status, replayed.text]).toEqual([202, first.text]);
  });
});
