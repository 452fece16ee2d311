import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { forgetAnswers, previousAnswer } from '../../db/idempotency.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
});
afterAll(() => house.close());

const once = (key: string) => ({ 'idempotency-key': key });

describe('an Idempotency-Key', () => {
  test('gives a repeat the same answer and does the work once', async () => {
    const request = { looms: [{ loom: 'loom', quantity: 2 }] };
    const first = await editor.post('/v1/quotes', request, once('quote-1'));
    const again = await editor.post('/v1/quotes', request, once('quote-1'));
    expect(again.status).toBe(first.status);
    expect(again.text).toBe(first.text);
    expect(again.headers.get('location')).toBe(first.headers.get('location'));
    expect(again.headers.get('idempotent-replay')).toBe('true');
    expect((await editor.get('/v1/quotes')).json<{ items: unknown[] }>().items).toHaveLength(1);
  });

  test('with another body is refused with 422, and so with another path', async () => {
    await editor.post('/v1/parts', { ...ring, code: 'twice' }, once('part-1'));
    expect((await editor.post('/v1/parts', { ...ring, code: 'other' }, once('part-1'))).status).toBe(422);
    expect((await editor.post('/v1/suppliers', { ...ring, code: 'twice' }, once('part-1'))).status).toBe(422);
    expect((await editor.get('/v1/parts/other')).status).toBe(404);
  });

  test('of a refused request is free to be used again', async () => {
    expect((await editor.post('/v1/parts', { ...ring, code: 'ring-6' }, once('part-2'))).status).toBe(409);
    expect((await editor.post('/v1/parts', { ...ring, code: 'mended' }, once('part-2'))).status).toBe(201);
  });

  test('is a club’s own', async () => {
    const other = await (await house.club()).as('editor');
    await editor.post('/v1/parts', { ...ring, code: 'own-1' }, once('shared'));
    expect((await other.post('/v1/parts', { ...ring, code: 'own-2' }, once('shared'))).status).toBe(201);
  });

  test('that cannot be one is refused with 400', async () => {
    for (const key of ['with space', 'x'.repeat(256)])
      expect((await editor.post('/v1/parts', ring, once(key))).status).toBe(400);
  });

  test('is forgotten with time, and then does the work anew', async () => {
    await editor.post('/v1/parts', { ...ring, code: 'old' }, once('old-key'));
    expect(await forgetAnswers(house.database, new Date(Date.now() + 1000))).toBeGreaterThan(0);
    expect((await editor.post('/v1/parts', { ...ring, code: 'old' }, once('old-key'))).status).toBe(409);
  });

  testOnlyIn('service', 'PGlite has one connection, so that no two requests are under way at once')(
    'whose first request still runs is answered with 409',
    async () => {
      const use = { key: 'running', route: 'POST /v1/parts', bodyHash: 'x' };
      await club.run(async (ctx) => {
        await previousAnswer({ ctx, input: use });
        expect((await editor.post('/v1/parts', { ...ring, code: 'late' }, once('running'))).status).toBe(409);
      });
      expect((await editor.post('/v1/parts', { ...ring, code: 'late' }, once('running'))).status).toBe(201);
    },
  );

  test('sent by many at once does the work once', async () => {
    const body = { ...ring, code: 'stampede' };
    const all = await Promise.all(
      Array.from({ length: 8 }, () => editor.post('/v1/parts', body, once('stampede'))),
    );
    // Whoever is not answered with the one creation came while it ran.
    expect(all.every(({ status }) => status === 201 || status === 409)).toBe(true);
    expect(
      all.filter(({ status, headers }) => status === 201 && headers.get('idempotent-replay') === null),
    ).toHaveLength(1);
  });
});
