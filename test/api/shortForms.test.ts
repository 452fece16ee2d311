import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { gbp, loadSmall, shop } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let editor: Client;
let admin: Client;

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  [editor, admin] = [await club.as('editor'), await club.as('admin')];
  await loadSmall(editor);
});
afterAll(() => house.close());

test('a supplier and an offer in short forms are stored in long ones, in the club’s and the supplier’s currency', async () => {
  const supplier = await editor.post('/v1/suppliers', {
    code: 'mill',
    name: 'Mill',
    postage: '3.95, free from 40',
  });
  expect(supplier.json()).toEqual({
    code: 'mill',
    name: 'Mill',
    currency: 'GBP',
    postage: {
      by: 'value',
      bands: [
        { fromValue: gbp('0'), charge: gbp('3.95') },
        { fromValue: gbp('40'), charge: gbp('0') },
      ],
    },
  });
  await editor.post('/v1/suppliers', { ...shop, code: 'abroad', currency: 'EUR' });
  const offer = await editor.post('/v1/offers', {
    form: 'pack',
    code: 'abroad-ring',
    supplier: 'abroad',
    part: 'ring-6',
    packCount: 10,
    packPrice: '2.50',
    breaks: '10: 2.20',
  });
  expect(offer.json()).toMatchObject({
    packPrice: { amount: '2.50', currency: 'EUR' },
    breaks: [{ fromPacks: 10, packPrice: { amount: '2.20', currency: 'EUR' } }],
  });
});

test('an offer of a wire by its size and colour adds the part with it, once', async () => {
  const metre = (code: string, part: string) =>
    editor.post('/v1/offers', { form: 'metre', code, supplier: 'shop', part, pricePerMetre: '0.31' });
  const code = 'pvc-vehicle-14-0.30-green-white';
  expect((await metre('gw', '14/0.30 green/white')).json()).toMatchObject({ part: code });
  expect((await editor.get(`/v1/parts/${code}`)).json()).toMatchObject({
    kind: 'wire',
    size: { system: 'metricStrands', strands: 14, strandMm: 0.3 },
    colour: { base: 'green', tracer: 'white' },
  });
  expect((await metre('gw-2', '14/.012 green/white')).json()).toMatchObject({ part: code });
  // What is refused leaves no part behind.
  const refused = await editor.post('/v1/offers', {
    form: 'metre',
    code: 'x',
    supplier: 'nobody',
    part: '28/0.30 red',
    pricePerMetre: '1',
  });
  expect(refused.status).toBe(422);
  expect((await editor.get('/v1/parts/pvc-vehicle-28-0.30-red')).status).toBe(404);
});

test('a loom in short forms is stored in long ones, its wires of the club’s usual cable type', async () => {
  const { body, etag } = await admin
    .get('/v1/club')
    .then((got) => ({ body: got.json<object>(), etag: got.headers.get('etag') ?? '' }));
  const { currency, settings } = body as { currency: string; settings: object };
  await admin.put(
    '/v1/club',
    { currency, settings: { ...settings, usualCableType: 'thin-wall' } },
    { 'if-match': etag },
  );
  const loom = await editor.post('/v1/looms', {
    code: 'short',
    name: 'Short',
    colourSystem: 'bsAu7',
    points: [
      { id: 'lamp', kind: 'device' },
      { id: 'earth', kind: 'stud' },
    ],
    wires: [
      {
        id: 'W1',
        size: '1 mm²',
        colour: 'R',
        from: 'lamp.56b',
        to: { point: 'earth', terminal: 'ring-6' },
        length: '620 tip to tip',
      },
    ],
  });
  expect(loom.status).toBe(201);
  expect(loom.json()).toMatchObject({
    wires: [
      {
        cableType: 'thin-wall',
        size: { system: 'mm2', areaMm2: 1 },
        colour: { base: 'red' },
        from: { point: 'lamp', way: '56b' },
        to: { point: 'earth', terminal: { part: 'ring-6', supply: 'buy' } },
        length: { mm: 620, basis: 'tipToTip' },
      },
    ],
  });
});

test('a text with two readings is refused with both, together with all other faults', async () => {
  const got = await editor.post('/v1/looms', {
    code: 'two',
    name: 'Two',
    points: [{ id: 'A', kind: 'stud' }],
    wires: [
      { id: 'W1', size: '16', colour: 'red', from: 'A', to: { point: 'A', terminal: 'ghost' }, length: 5 },
    ],
  });
  expect(got.status).toBe(422);
  const { findings } = got.json<{
    findings: { code: string; at: string; found: string; limit?: string }[];
  }>();
  expect(findings).toEqual(
    expect.arrayContaining([
      expect.objectContaining({
        code: 'two-readings',
        at: '/wires/0/size',
        found: '"16"',
        limit: 'one of: 16 mm² | 16 AWG | SAE 16',
      }),
      expect.objectContaining({ code: 'unknown-part', at: '/wires/0/to/terminal/part' }),
    ]),
  );
});

test('the API’s description says where a short form may stand, and not that an answer holds one', async () => {
  const { components } = (await house.anonymous.get('/openapi.json')).json<{
    components: { schemas: Record<string, { anyOf?: { examples?: string[] }[] }> };
  }>();
  expect(components.schemas['Size']?.anyOf?.at(-1)?.examples).toContain('44/0.30');
  expect(components.schemas['SizeOutput']?.anyOf).toBeUndefined();
});
