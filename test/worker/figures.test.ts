import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { Figures } from '../../worker/engine/model/control.ts';
import type { Client } from '../support/client.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { slowJob } from '../support/slowJob.ts';
import { storeJob } from '../support/storeJob.ts';
import { askQuote, taskRow, untilTask } from '../support/taskRows.ts';

let house: TestHouse;
let member: Client;

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  await storeJob(club, slowJob());
  member = await club.as('member');
  await house.startWorker();
});
afterAll(() => house.close());

/** The figures of each event that has any, in their order. */
function figuresIn(events: string): Figures[] {
  return [...events.matchAll(/^data: (.*)$/gm)].flatMap(([, data = '']) => {
    const { progress } = JSON.parse(data) as { progress: { figures?: Figures } };
    return progress.figures ?? [];
  });
}

test('a slow task shows the best so far and the bound, neither of which ever gets worse, and ends when it is cancelled', async () => {
  const { task } = await askQuote(member, 'slow');
  const events = member.get(`/v1/tasks/${task}/events`);
  const seen = new Map<number, Figures>();
  // Both must have moved: two different ones at the least.
  await vi.waitFor(
    async () => {
      const { progressNumber, progress } = await taskRow(house.database, task);
      if (progress.figures) seen.set(progressNumber, progress.figures);
      expect(new Set([...seen.values()].map((figures) => JSON.stringify(figures))).size).toBeGreaterThan(1);
    },
    { timeout: 50_000, interval: 25 },
  );
  const shown = (await member.get(`/v1/tasks/${task}`)).json<{
    progress: { phase: string; figures: Figures };
  }>();
  expect(shown.progress).toMatchObject({ phase: 'sourcing', figures: { currency: 'GBP' } });
  await member.post(`/v1/tasks/${task}/cancel`, undefined);
  await untilTask(house.database, task, { state: 'cancelled' });

  const told = figuresIn((await events).text);
  expect(told.length).toBeGreaterThan(0);
  for (const list of [[...seen.values()], told])
    list.forEach(({ best, bound = '0', gapPercent }, at) => {
      expect(Number(bound)).toBeLessThanOrEqual(Number(best));
      if (gapPercent !== undefined)
        expect(gapPercent).toBeCloseTo((100 * (Number(best) - Number(bound))) / Number(best), 3);
      const before = list[at - 1];
      expect(Number(best)).toBeLessThanOrEqual(Number(before?.best ?? Infinity));
      expect(Number(bound)).toBeGreaterThanOrEqual(Number(before?.bound ?? 0));
    });
});
