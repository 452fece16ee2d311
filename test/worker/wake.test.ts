import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, expect, onTestFinished, test, vi } from 'vitest';
import type { Handle } from '../../worker/wake/wake.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';

// The two ways to be woken keep one promise; the file runs on both.
let house: TestHouse;

beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

const within = { timeout: 15_000, interval: 10 };
const wake = (id: string, wakeNumber = 1) => house.wake.wake({ id, wakeNumber });

/** Listens with a handler that notes what it is called for. */
function listening(handle: Handle = async () => undefined) {
  const heard: string[] = [];
  const listener = house.listen((id) => {
    heard.push(id);
    return handle(id);
  });
  let closing: Promise<void> | undefined;
  const close = () => (closing ??= listener.close());
  onTestFinished(() => close());
  return { heard, close };
}

test('a waking that comes before anybody listens is heard when somebody does', async () => {
  const id = uuidv7();
  await wake(id);
  const { heard } = listening();
  await vi.waitFor(() => expect(heard).toEqual([id]), within);
});

test('wakings are handled in turn, one at a time where one is asked for', async () => {
  const ids = [uuidv7(), uuidv7(), uuidv7()];
  let atOnce = 0;
  let most = 0;
  const { heard } = listening(async () => {
    most = Math.max(most, ++atOnce);
    await new Promise((resolve) => setImmediate(resolve));
    atOnce--;
  });
  for (const id of ids) await wake(id);
  await vi.waitFor(() => expect(heard).toEqual(ids), within);
  expect(most).toBe(1);
});

test('a handler that throws takes no other waking with it', async () => {
  const [bad, good] = [uuidv7(), uuidv7()];
  const { heard } = listening((id) =>
    id === bad ? Promise.reject(new Error('no database')) : Promise.resolve(),
  );
  await wake(bad);
  await wake(good);
  await vi.waitFor(() => expect(heard).toEqual([bad, good]), within);
});

test('a task is heard again when it is woken again', async () => {
  const id = uuidv7();
  const { heard } = listening();
  await wake(id, 1);
  await vi.waitFor(() => expect(heard).toEqual([id]), within);
  await wake(id, 2);
  await vi.waitFor(() => expect(heard).toEqual([id, id]), within);
});

test('closing waits for what is in hand, and what comes later waits for the next listener', async () => {
  const [inHand, after] = [uuidv7(), uuidv7()];
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  const first = listening(async () => {
    await held;
  });
  await wake(inHand);
  await vi.waitFor(() => expect(first.heard).toEqual([inHand]), within);
  const order: string[] = [];
  const closed = first.close().then(() => order.push('closed'));
  await wake(after);
  order.push('let go');
  letGo();
  await closed;
  expect(order).toEqual(['let go', 'closed']);
  expect(first.heard).toEqual([inHand]);
  const second = listening();
  await vi.waitFor(() => expect(second.heard).toEqual([after]), within);
});

testOnlyIn('embedded', 'in Redis every waking is a job of its own')(
  'a task that waits already is not put in line twice',
  async () => {
    const [id, last] = [uuidv7(), uuidv7()];
    await wake(id, 1);
    await wake(id, 2);
    await wake(last);
    const { heard } = listening();
    await vi.waitFor(() => expect(heard).toContain(last), within);
    expect(heard).toEqual([id, last]);
  },
);
