import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { loadSmall, oneWireLoom, redWire, ring, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let editor: Client;

const numbered = (code: string, numbers: string) => ({ ...ring, code, numbers });
const CSV = { 'content-type': 'text/csv' };

beforeAll(async () => {
  house = await openHouse();
  editor = await (await house.club()).as('editor');
  await loadSmall(editor);
  for (const part of [
    numbered('lug-a', 'Wrenfield 20 41 77-33; Osterby 8-113'),
    numbered('lug-b', 'Osterby 8 113; Osterby: W-I-R-E-R-E-D'),
    numbered('lug-c', 'Tarnholt: ring 6'),
  ])
    expect((await editor.post('/v1/parts', part)).status).toBe(201);
});
afterAll(() => house.close());

describe('a number that stands where the code of a part is meant', () => {
  test('is stored as the code of the one part that has it, however its figures are grouped', async () => {
    const offer = await editor.post('/v1/offers', { ...ringOffer, code: 'by-number', part: '2041.7733' });
    expect([offer.status, offer.json()['part']]).toEqual([201, 'lug-a']);
    const item = { code: 'by-number', form: 'pieces', part: '20417733', count: 3 };
    const stock = await editor.post('/v1/stock', item);
    expect([stock.status, stock.json()['part']]).toEqual([201, 'lug-a']);
    const text = JSON.stringify(oneWireLoom('numbered')).replaceAll('"ring-6"', '"20-41-77-33"');
    expect((await editor.post('/v1/looms', text)).status).toBe(201);
    const loom = await editor.get('/v1/looms/numbered');
    expect(loom.text).not.toContain('20-41-77-33');
    expect(loom.text).toContain('"part":"lug-a"');
  });

  test('is so in the cells of a spreadsheet too', async () => {
    const stock = await editor.send('POST', '/v1/stock/table', {
      headers: CSV,
      body: 'code,form,part,count\nin-a-cell,pieces,20.41.77.33,4\n',
    });
    expect(stock.status, stock.text).toBe(200);
    expect((await editor.get('/v1/stock/in-a-cell')).json()['part']).toBe('lug-a');
  });

  test('is unchanged when the same spreadsheet is sent a second time', async () => {
    const send = async (path: string, body: string) =>
      (await editor.send('POST', path, { headers: CSV, body })).json<Record<string, unknown>>();
    const stock = 'code,form,part,count\nsent-twice,pieces,20.41.77.33,4\n';
    const offers =
      'code,form,supplier,part,pieces in a pack,price\nsent-twice,pack,shop,20-41-77-33,5,2.00\n';
    for (const [path, body] of [
      ['/v1/stock/table', stock],
      ['/v1/offers/table', offers],
    ] as const) {
      expect(await send(path, body)).toMatchObject({ new: 1, faults: 0 });
      const tag = (await editor.get(path.replace('table', 'sent-twice'))).headers.get('etag');
      expect(await send(path, body)).toMatchObject({ new: 0, changed: 0, unchanged: 1, faults: 0 });
      expect((await editor.get(path.replace('table', 'sent-twice'))).headers.get('etag')).toBe(tag);
    }
    await editor.post('/v1/looms', oneWireLoom('twice'));
    for (const [list, given] of [
      ['wires', undefined],
      ['extras', 'part,quantity\n20-41-77-33,2\n'],
    ] as const) {
      const path = `/v1/looms/twice/tables/${list}`;
      const csv = given ?? (await editor.get(path)).text.replaceAll('ring-6', '20-41-77-33');
      const { revision } = await send(path, csv);
      const again = await send(path, csv);
      expect(again).toMatchObject({ new: 0, changed: 0, unchanged: 1, removed: 0, faults: 0, revision });
    }
    expect((await editor.get('/v1/looms/twice')).json()['revision']).toBe(3);
  });

  test('of several parts is refused, and they are told', async () => {
    const refused = await editor.post('/v1/offers', { ...ringOffer, code: 'of-two', part: '8-113' });
    expect(refused.status).toBe(422);
    expect(refused.json<{ findings: unknown[] }>().findings).toMatchObject([
      {
        code: 'unknown-part',
        at: '/part',
        todo: 'The number 8-113 is that of lug-a and lug-b. Name one of them.',
      },
    ]);
  });

  test('is a code wherever the club has that code', async () => {
    const item = { code: 'code-first', form: 'pieces', part: 'ring-6', count: 1 };
    expect((await editor.post('/v1/stock', item)).json()['part']).toBe('ring-6');
    const other = { ...item, code: 'number-next', part: 'RING6' };
    expect((await editor.post('/v1/stock', other)).json()['part']).toBe('lug-c');
  });

  test('names a part in no fit, where it says which part to name', async () => {
    const fit = { from: '20417733', relation: 'takes', to: redWire.code };
    const refused = await editor.post('/v1/fits', fit);
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('There is no part 20417733, but lug-a has this number. Name lug-a.');
  });
});
