import { expect, onTestFinished, test } from 'vitest';
import { bodyReader } from '../../api/http/reading/bodies.ts';

const body = { endpoint: 'POST /v1/looms', bytes: new Uint8Array() };

/** A reader whose threads do this with each body. */
function readerWith(work: string, options: { atOnce?: number; withinMs?: number } = {}) {
  const code = `import { parentPort } from 'node:worker_threads'; parentPort.on('message', () => { ${work} });`;
  const entry = new URL(`data:text/javascript,${encodeURIComponent(code)}`);
  const reader = bodyReader({ maxBytes: 1, entry, ...options });
  onTestFinished(() => reader.close());
  return reader;
}

const ANSWERS = `parentPort.postMessage({ says: 'asksClub' })`;

test('A club has four large bodies in hand and no more; others have theirs, and a place that is given back is free once', () => {
  const reader = readerWith(ANSWERS);
  const held = Array.from({ length: 4 }, () => reader.place('a'));
  expect(() => reader.place('a')).toThrow(/4 large bodies of this club/);
  reader.place('b');
  held[0]?.();
  held[0]?.();
  reader.place('a');
  expect(() => reader.place('a')).toThrow(/4 large bodies of this club/);
});

test('All clubs together have so many large bodies in hand and no more', () => {
  const reader = readerWith(ANSWERS);
  for (let club = 0; club < 8; club++) for (let each = 0; each < 4; each++) reader.place(`club ${club}`);
  expect(() => reader.place('another')).toThrow(/Too many large bodies/);
});

test('The body of another club is read next, however many one club has waiting', async () => {
  const reader = readerWith(ANSWERS, { atOnce: 1 });
  const order: string[] = [];
  const read = async (club: string) => {
    await reader.read(club, body);
    order.push(club);
  };
  await Promise.all([read('a'), read('a'), read('a'), read('b')]);
  expect(order).toEqual(['a', 'b', 'a', 'a']);
});

test('A body that needs more memory than there is for one is refused, one after another', async () => {
  const hungry = readerWith('const all = []; for (;;) all.push(new Array(100_000).fill(Math.random()));');
  await expect(hungry.read('a', body)).rejects.toMatchObject({ kind: 'too-large' });
});

test('A body that takes too long is given up', async () => {
  const slow = readerWith('', { withinMs: 20 });
  await expect(slow.read('a', body)).rejects.toMatchObject({ kind: 'out-of-time' });
});

test('A reader that is closed ends what is in hand and what waits', async () => {
  const reader = readerWith('', { atOnce: 1 });
  const both = [reader.read('a', body), reader.read('b', body)].map((read) =>
    expect(read).rejects.toMatchObject({ kind: 'not-ready' }),
  );
  await reader.close();
  await Promise.all(both);
});
