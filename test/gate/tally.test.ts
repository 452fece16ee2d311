import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { tallyOf, type SharedCounts } from '../../api/http/limits/tally.ts';

/** What Redis does, over a clock that is moved by hand. */
function sharedWorld() {
  const world = { at: 0, away: false };
  const sums = new Map<string, { sum: number; endsAt: number }>();
  const counts: SharedCounts = {
    add: (name, count) => {
      if (world.away) return Promise.reject(new Error('away'));
      const found = sums.get(name);
      const window = found && world.at < found.endsAt ? found : { sum: 0, endsAt: world.at + 60_000 };
      window.sum += count;
      sums.set(name, window);
      return Promise.resolve({ sum: window.sum, endsInMs: window.endsAt - world.at });
    },
  };
  return { world, counts, now: () => world.at };
}

const taken = (tally: ReturnType<typeof tallyOf>, times: number, name = 'a') =>
  Array.from({ length: times }, () => tally.take(name)).filter(({ allowed }) => allowed).length;

describe('a limit a minute', () => {
  test('lets through exactly what it allows, says how long to wait, and begins again after that', () => {
    let at = 500;
    const tally = tallyOf(3, () => at);
    expect(taken(tally, 3)).toBe(3);
    at = 20_500;
    expect(tally.take('a')).toEqual({ allowed: false, left: 0, endsInMs: 40_000 });
    expect(tally.take('b').allowed).toBe(true);
    at = 60_500;
    expect(taken(tally, 5)).toBe(3);
  });

  test('of 0 refuses nothing', () => {
    expect(
      taken(
        tallyOf(0, () => 0),
        1000,
      ),
    ).toBe(1000);
  });

  test('counts nothing that was given back', () => {
    const tally = tallyOf(2, () => 0);
    for (let time = 0; time < 10; time++) {
      tally.take('a');
      tally.giveBack('a');
    }
    expect(taken(tally, 5)).toBe(2);
  });

  test('never lets more through in a window than it allows, whatever the times and names', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom('a', 'b'), fc.integer({ min: 0, max: 30_000 })), {
          maxLength: 200,
        }),
        fc.integer({ min: 1, max: 5 }),
        (asked, perMinute) => {
          let at = 0;
          const tally = tallyOf(perMinute, () => at);
          const through = asked.flatMap(([name, later]) => {
            at += later;
            const { allowed, endsInMs } = tally.take(name);
            return [{ name, allowed, endsAt: at + endsInMs }];
          });
          for (const { name, endsAt } of through) {
            const inWindow = through.filter((one) => one.name === name && one.endsAt === endsAt);
            const letIn = inWindow.filter(({ allowed }) => allowed).length;
            expect(letIn).toBe(Math.min(perMinute, inWindow.length));
          }
        },
      ),
    );
  });
});

describe('processes that count together', () => {
  test('let through together what one would, once they have told each other', async () => {
    const { counts, now } = sharedWorld();
    const [one, other] = [tallyOf(10, now, counts), tallyOf(10, now, counts)];
    expect(taken(one, 6)).toBe(6);
    expect(taken(other, 3)).toBe(3);
    await one.tell();
    await other.tell();
    // The other knows of all nine; the first of its own six until it tells again.
    expect(taken(other, 5)).toBe(1);
    await other.tell();
    expect(taken(one, 1)).toBe(1);
    await one.tell();
    expect(taken(one, 5)).toBe(0);
  });

  test('count alone while what they share is away, and lose no count by it', async () => {
    const { world, counts, now } = sharedWorld();
    const tally = tallyOf(5, now, counts);
    world.away = true;
    expect(taken(tally, 3)).toBe(3);
    await tally.tell();
    expect(taken(tally, 5)).toBe(2);
    world.away = false;
    await tally.tell();
    expect(taken(tally, 5)).toBe(0);
  });

  test('answer at once while what they share says nothing', () => {
    const tally = tallyOf(5, () => 0, { add: () => new Promise(() => undefined) });
    taken(tally, 3);
    void tally.tell();
    expect(taken(tally, 5)).toBe(2);
  });

  test('end their windows together', async () => {
    const { world, counts, now } = sharedWorld();
    const [one, other] = [tallyOf(5, now, counts), tallyOf(5, now, counts)];
    taken(one, 5);
    await one.tell();
    world.at = 30_000;
    taken(other, 1);
    await other.tell();
    expect(other.take('a')).toEqual({ allowed: false, left: 0, endsInMs: 30_000 });
    world.at = 60_000;
    expect(taken(other, 9)).toBe(5);
  });
});

test('names that were never seen before push out old ones, so that they do not fill the memory', () => {
  const tally = tallyOf(1, () => 0);
  tally.take('first');
  expect(tally.take('first').allowed).toBe(false);
  for (let name = 0; name < 10_000; name++) tally.take(`${name}`);
  expect(tally.take('first').allowed).toBe(true);
});
