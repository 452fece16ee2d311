import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import type { Client, Got } from '../support/client.ts';
import { gbp, loadSmall, oneWireLoom, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

const BODY_BYTES = 24 * 1024 ** 2;

beforeAll(async () => {
  house = await openHouse({ bodyBytes: BODY_BYTES });
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
});
afterAll(() => house.close());

interface Problem {
  type: string;
  status: number;
  detail: string;
  requestId: string;
  findings?: { at: string; code: string; where: string; todo: string }[];
}

function problem(got: Got): Problem {
  expect(got.headers.get('content-type')).toBe('application/problem+json');
  const document = got.json<Problem>();
  expect(document.status).toBe(got.status);
  expect(document.requestId).toBe(got.headers.get('x-request-id'));
  return document;
}

const pointers = (got: Got) => (problem(got).findings ?? []).map((finding) => finding.at);

describe('every fault is a problem document with a request id', () => {
  test('a path that is not there: 404', async () => {
    expect(problem(await editor.get('/v1/nothing')).type).toBe('/problems/not-found');
    problem(await editor.get('/'));
  });

  test('a method that is not done there: 405 with what is', async () => {
    const got = await editor.send('PATCH', '/v1/parts/ring-6');
    expect(problem(got).status).toBe(405);
    expect(got.headers.get('allow')?.split(', ').sort()).toEqual(['DELETE', 'GET', 'HEAD', 'OPTIONS', 'PUT']);
  });

  test('a body that is no JSON: 400 with line and column', async () => {
    const got = await editor.post('/v1/parts', '{\n  "code": "a",\n  "kind" "ring"\n}');
    expect(problem(got).status).toBe(400);
    expect(problem(got).detail).toContain('line 3, column 10');
  });

  test('an empty body: 400', async () => {
    expect(problem(await editor.post('/v1/parts', '')).status).toBe(400);
  });

  test.each(['text/plain', 'application/x-www-form-urlencoded', ''])(
    'a body of type %j: 415',
    async (type) => {
      expect(problem(await editor.post('/v1/parts', ring, { 'content-type': type })).status).toBe(415);
    },
  );

  test('a body over the limit: 413, whether it says its length or not', async () => {
    const large = JSON.stringify({ ...ring, note: 'x'.repeat(BODY_BYTES) });
    const got = await editor.post('/v1/parts', large);
    expect(problem(got).status).toBe(413);
    expect(problem(got).detail).toContain(String(BODY_BYTES));
    const honest = await editor.post('/v1/parts', ring, { 'content-length': String(BODY_BYTES + 1) });
    expect(problem(honest).status).toBe(413);
  });

  test('texts that no database stores: 422 at their pointer', async () => {
    const got = await editor.post(
      '/v1/parts',
      '{"kind":"consumable","code":"c","description":"a\\u0000b","note":"\\ud800"}',
    );
    expect(problem(got).status).toBe(422);
    expect(pointers(got)).toEqual(['/description', '/note']);
  });

  test('a request id that was sent is kept, an odd one is replaced', async () => {
    expect((await editor.get('/v1/parts', { 'x-request-id': 'mine-1' })).headers.get('x-request-id')).toBe(
      'mine-1',
    );
    expect(
      (await editor.get('/v1/parts', { 'x-request-id': 'no spaces' })).headers.get('x-request-id'),
    ).not.toBe('no spaces');
  });
});

describe('a loom that cannot be used is refused with all its faults at once, and nothing is stored', () => {
  const wire = oneWireLoom().wires[0];
  const withWire = (change: object) => ({ ...oneWireLoom('bad'), wires: [{ ...wire, ...change }] });
  const end = (change: object) => ({ point: 'A', join: 'crimp', ...change });

  test.each<[string, object, string[]]>([
    ['a length below nothing', withWire({ length: { mm: -5, basis: 'route' } }), ['/wires/0/length/mm']],
    ['an absurd length', withWire({ length: { mm: 10_000_000, basis: 'route' } }), ['/wires/0/length/mm']],
    [
      'a length that is no whole number',
      withWire({ length: { mm: 10.5, basis: 'route' } }),
      ['/wires/0/length/mm'],
    ],
    ['an end at a point that is not there', withWire({ to: end({ point: 'Z' }) }), ['/wires/0/to/point']],
    [
      'a part that nobody has',
      withWire({ to: end({ terminal: { part: 'no-such' } }) }),
      ['/wires/0/to/terminal/part'],
    ],
    [
      'one id twice',
      { ...oneWireLoom('bad'), points: [...oneWireLoom().points, { id: 'A', kind: 'stud' }] },
      ['/points/2/id'],
    ],
    ['no wires and no parts', { code: 'bad', name: 'Nothing' }, ['/wires']],
    ['fields that are not there', { ...oneWireLoom('bad'), wheels: 4, doors: 2 }, ['/wheels', '/doors']],
    [
      'several faults',
      withWire({
        size: { system: 'mm2', areaMm2: -1 },
        colour: { base: 'mauve' },
        length: { mm: 0, basis: 'guess' },
      }),
      ['/wires/0/colour/base', '/wires/0/length/basis', '/wires/0/length/mm', '/wires/0/size/areaMm2'],
    ],
  ])('%s', async (_what, loom, at) => {
    const got = await editor.post('/v1/looms', loom);
    expect(got.status).toBe(422);
    expect(pointers(got).sort()).toEqual([...at].sort());
    for (const finding of problem(got).findings ?? []) expect(finding.todo).toMatch(/\w+.*\.$/);
    expect((await editor.get('/v1/looms/bad')).status).toBe(404);
  });

  test('one wire over the limit: 422 that says the limit', async () => {
    const wires = Array.from({ length: LIMITS.wires + 1 }, (_, index) => ({ ...wire, id: `W${index}` }));
    const got = await editor.post('/v1/looms', { ...oneWireLoom('bad'), wires });
    expect(got.status).toBe(422);
    expect(pointers(got)).toEqual(['/wires']);
    expect(problem(got).findings?.[0]?.todo).toContain(String(LIMITS.wires));
  });

  test('a name over the limit: 422', async () => {
    const got = await editor.post('/v1/looms', {
      ...oneWireLoom('bad'),
      name: 'x'.repeat(LIMITS.nameLength + 1),
    });
    expect(pointers(got)).toEqual(['/name']);
  });
});

describe('a supplier', () => {
  const supplier = { code: 'bad', name: 'Bad', currency: 'GBP' };
  const band = (from: string, charge: string) => ({ fromValue: gbp(from), charge: gbp(charge) });
  test.each<[string, object, string[]]>([
    [
      'whose postage bands overlap',
      { bands: [band('0.00', '4.00'), band('50.00', '0.00'), band('50.00', '1.00')] },
      ['/postage/bands/2/fromValue/amount'],
    ],
    [
      'whose first postage band does not start at nothing',
      { bands: [band('1.00', '4.00')] },
      ['/postage/bands/0/fromValue/amount'],
    ],
    [
      'whose postage is in another currency',
      { bands: [{ fromValue: gbp('0.00'), charge: { amount: '4.00', currency: 'EUR' } }] },
      ['/postage/bands/0/charge/currency'],
    ],
  ])('%s is refused', async (_what, postage, at) => {
    const got = await editor.post('/v1/suppliers', { ...supplier, postage: { by: 'value', ...postage } });
    expect(got.status).toBe(422);
    expect(pointers(got)).toEqual(at);
  });
});

describe('a quote is refused', () => {
  test.each<[string, object, string[]]>([
    ['of a quantity of nothing', { looms: [{ loom: 'loom', quantity: 0 }] }, ['/looms/0/quantity']],
    ['of a loom that is not there', { looms: [{ loom: 'no-such', quantity: 1 }] }, ['/looms/0/loom']],
    [
      'of a revision that is not there',
      { looms: [{ loom: 'loom', revision: 9, quantity: 1 }] },
      ['/looms/0/revision'],
    ],
    ['of no looms', { looms: [] }, ['/looms']],
    [
      'of one loom twice',
      {
        looms: [
          { loom: 'loom', quantity: 1 },
          { loom: 'loom', quantity: 2 },
        ],
      },
      ['/looms/1/loom'],
    ],
    [
      'with a setting that is none',
      { looms: [{ loom: 'loom', quantity: 1 }], settings: { slack: 3 } },
      ['/settings/slack'],
    ],
    ['with a day that is none', { looms: [{ loom: 'loom', quantity: 1 }], asOf: '2026-02-30' }, ['/asOf']],
  ])('%s', async (_what, request, at) => {
    const got = await editor.post('/v1/quotes', request);
    expect(got.status).toBe(422);
    expect(pointers(got)).toEqual(at);
    expect((await editor.get('/v1/quotes')).json<{ items: unknown[] }>().items).toEqual([]);
  });
});

describe('without a key', () => {
  test.each(['', 'Bearer lw_short', `Bearer lw_${'a'.repeat(43)}`, 'Basic eDp5'])(
    '%j is answered with 401',
    async (authorization) => {
      const got = await house.anonymous.get('/v1/parts', authorization === '' ? {} : { authorization });
      expect(problem(got).status).toBe(401);
      expect(got.headers.get('www-authenticate')).toContain('Bearer');
    },
  );

  test('health, readiness and the document answer', async () => {
    for (const path of ['/healthz', '/readyz', '/openapi.json'])
      expect((await house.anonymous.get(path)).status).toBe(200);
  });
});

test('the document is OpenAPI 3.1 and names every part of the model', async () => {
  const document = (await house.anonymous.get('/openapi.json')).json<{
    openapi: string;
    components: { schemas: object };
  }>();
  expect(document.openapi).toBe('3.1.0');
  for (const name of ['Part', 'Supplier', 'Offer', 'NewLoom', 'JobLoom', 'Result', 'Problem', 'Finding'])
    expect(document.components.schemas).toHaveProperty(name);
});

describe('names that lead nowhere are told beside faults of another kind', () => {
  test('in an offer: its supplier and its part', async () => {
    const offer = {
      form: 'pack',
      code: 'x',
      supplier: 'nobody',
      part: 'nothing',
      packCount: 0,
      packPrice: gbp('1'),
    };
    expect(pointers(await editor.post('/v1/offers', offer)).sort()).toEqual([
      '/packCount',
      '/part',
      '/supplier',
    ]);
  });

  test('in a loom: its parts and its points', async () => {
    const loom = { ...oneWireLoom('x'), name: 7, parts: [{ part: 'nothing', quantity: 1 }] };
    expect(pointers(await editor.post('/v1/looms', loom)).sort()).toEqual(['/name', '/parts/0/part']);
  });
});
