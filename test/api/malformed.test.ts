import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { figure } from '../support/figures.ts';
import { gbp, loadSmall, oneWireLoom, redOffer, ring, shop } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { LONG } from '../support/long.ts';
import { testMode } from '../support/mode.ts';

let house: TestHouse;
let admin: Client;
/** Every call of the served document. */
let served: { path: string; method: string }[] = [];

beforeAll(async () => {
  house = await openHouse();
  admin = await (await house.club()).as('admin');
  await loadSmall(admin);
  const other = await (await house.club()).as('admin');
  await other.post('/v1/parts', { kind: 'consumable', code: OTHERS, description: OTHERS });
  await other.post('/v1/looms', {
    ...oneWireLoom(OTHERS),
    parts: [{ part: OTHERS, quantity: 1 }],
    wires: [],
  });
  const { paths } = (await admin.get('/openapi.json')).json<{
    paths: Record<string, Record<string, object>>;
  }>();
  served = Object.entries(paths).flatMap(([path, calls]) =>
    // A stream of events ends with its task, and a test cannot wait for that.
    path.endsWith('/events')
      ? []
      : Object.keys(calls).map((method) => ({ path, method: method.toUpperCase() })),
  );
});
afterAll(() => house.close());

/** In either mode, of different requests: 1,000 in all, and 20,000 in the long form. */
const RUNS = LONG ? 10_000 : 500;
const SEED = testMode() === 'embedded' ? 20261125 : 20261126;

/** What only another club has: in its names, codes and notes. */
const OTHERS = 'only-the-others-have-this';

/** Real bodies, to be spoilt: what is nearly right finds more than what is plain noise. */
const bodies: Record<string, unknown> = {
  '/v1/parts': ring,
  '/v1/suppliers': {
    ...shop,
    postage: { by: 'value', bands: [{ fromValue: gbp('0.00'), charge: gbp('3.00') }] },
  },
  '/v1/offers': redOffer,
  '/v1/fits': { from: 'ring-6', relation: 'takes', to: 'wire-red', note: 'Tried.' },
  '/v1/rates': { code: 'eur', currency: 'EUR', on: '2026-11-02', rate: '0.85' },
  '/v1/lanes': { code: 'in', from: 'DE', to: 'GB', taxPercent: 20, dutyOverValue: gbp('135.00') },
  '/v1/stock': { code: 'shelf', form: 'length', part: 'wire-red', count: 2, lengthMm: 900 },
  '/v1/looms': oneWireLoom('spoilt'),
  '/v1/quotes': {
    looms: [{ loom: 'loom', quantity: 1, wave: 1 }],
    shutOut: ['shop'],
    insistOn: [],
    pinned: [{ part: 'ring-6', offer: 'ring-pack' }],
    parcelNuisance: gbp('1.00'),
  },
  '/v1/keys': { role: 'viewer', label: 'x' },
  '/v1/looms/loom/revisions': oneWireLoom(),
};

const oddValue = fc.oneof(
  fc.jsonValue({ maxDepth: 3 }),
  fc.constantFrom<unknown>(
    null,
    -1,
    0,
    1.5,
    1e308,
    -0,
    '',
    ' ',
    '\u0000',
    '\ud800',
    '𝄞',
    '../..',
    "'; --",
    '__proto__',
    [],
    {},
    [[]],
    true,
    'NaN',
  ),
);

/** A copy of a body with the value at one of its places replaced, removed, or joined by an odd field. */
function spoil(body: unknown, seed: number, odd: unknown): unknown {
  const copy = structuredClone(body);
  const places: [Record<string, unknown>, string][] = [];
  const walk = (value: unknown) => {
    if (typeof value !== 'object' || value === null) return;
    for (const key of Object.keys(value)) {
      places.push([value as Record<string, unknown>, key]);
      walk((value as Record<string, unknown>)[key]);
    }
  };
  walk(copy);
  const [holder, key] = places[seed % places.length] ?? [{}, 'x'];
  if (seed % 3 === 0) delete holder[key];
  else if (seed % 3 === 1) holder[key] = odd;
  else holder[String(odd).slice(0, 20)] = odd;
  return copy;
}

const path = fc.constantFrom(...Object.keys(bodies));
const method = fc.constantFrom('GET', 'POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS', 'HEAD');
const anyPath = fc.oneof(
  path,
  fc.string({ unit: 'binary-ascii', maxLength: 20 }).map((text) => `/v1/parts/${encodeURIComponent(text)}`),
  fc.constantFrom(
    '/v1/parts/%00',
    '/v1/parts/%E0%A4%A',
    '/v1/quotes/none',
    '/v1/tasks/1/events',
    '/v1/looms/loom/revisions/0',
    '/v1/looms/loom/revisions/1e3',
    '//',
    '/v1',
    '/v1/parts?limit=-1',
    '/v1/parts?cursor=%00',
    '/v1/offers?limit=1&limit=2',
  ),
);
const header = fc
  .string({ unit: 'binary-ascii', maxLength: 30 })
  .map((text) => text.replaceAll(/[^\x21-\x7e]/g, '').trim());

const request = fc.oneof(
  // A real body, spoilt in one place.
  fc
    .record({ method: fc.constant('POST'), path, seed: fc.nat(), odd: oddValue })
    .map(({ method, path, seed, odd }) => ({
      method,
      path,
      headers: {},
      body: JSON.stringify(spoil(bodies[path], seed, odd)),
    })),
  // A text that is cut short or is no JSON at all.
  fc
    .record({ path, cut: fc.nat(60), noise: fc.string({ unit: 'binary', maxLength: 20 }) })
    .map(({ path, cut, noise }) => ({
      method: 'POST',
      path,
      headers: {},
      body: `${(JSON.stringify(bodies[path]) ?? '').slice(0, cut)}${noise}`,
    })),
  // Any call that is served, with odd names in its path and an odd query.
  fc
    .record({
      at: fc.nat(),
      name: fc.constantFrom(
        'ring-6',
        'loom',
        'spoilt',
        '1',
        '0',
        OTHERS,
        'none',
        '%2e%2e',
        '%F0%9F%98%80',
        'a'.repeat(300),
      ),
      query: fc.constantFrom(
        '',
        '?limit=2',
        '?limit=x',
        '?preview=true',
        '?format=csv',
        '?x=%00',
        '?option=a&option=b',
      ),
      type: fc.constantFrom('application/json', 'text/csv', 'application/gzip'),
      odd: oddValue,
    })
    .map(({ at, name, query, type, odd }) => ({
      call: at,
      name,
      query,
      headers: { 'content-type': type },
      odd,
    })),
  // Any method, path and headers.
  fc
    .record({ method, path: anyPath, match: header, key: header, type: header, odd: oddValue })
    .map(({ method, path, match, key, type, odd }) => ({
      method,
      path,
      headers: { 'if-match': match, 'idempotency-key': key, 'content-type': type, 'last-event-id': match },
      ...(method === 'GET' || method === 'HEAD' ? {} : { body: JSON.stringify(odd) }),
    })),
);

interface Called {
  call: number;
  name: string;
  query: string;
  headers: Record<string, string>;
  odd: unknown;
}

function calledAs({ call, name, query, headers, odd }: Called) {
  const { method, path } = served[call % served.length] ?? { method: 'GET', path: '/' };
  const sent = method === 'GET' || method === 'DELETE' ? {} : { headers, body: JSON.stringify(odd) };
  return { method, path: `${path.replaceAll(/\{\w+\}/g, name)}${query}`, ...sent };
}

test(
  `${RUNS} malformed requests get no 5xx, and every refusal is a problem document`,
  async () => {
    const seen = new Map<number, number>();
    await fc.assert(
      fc.asyncProperty(request, async (asked) => {
        const { method, path, ...send } = 'call' in asked ? calledAs(asked) : asked;
        // The client checks each answer against the served document.
        const got = await admin.send(method, path, send);
        seen.set(got.status, (seen.get(got.status) ?? 0) + 1);
        expect(got.status).toBeLessThan(500);
        // A refusal may say back what was sent, and nothing else tells of another club.
        if (got.status < 400) expect(got.text).not.toContain(OTHERS);
        if (got.status >= 400 && method !== 'HEAD')
          expect(got.headers.get('content-type')).toBe('application/problem+json');
      }),
      { numRuns: RUNS, seed: SEED },
    );
    // The requests reached every gate, not just the first.
    for (const status of [400, 404, 405, 415, 422])
      expect([status, seen.get(status) ?? 0]).not.toEqual([status, 0]);
    figure(`generated requests without a 5xx, ${testMode()} mode`, RUNS, 'requests');
  },
  LONG ? 3_600_000 : 180_000,
);

test('a body of deeply nested brackets is refused, not crashed on', async () => {
  const deep = `${'['.repeat(200_000)}${']'.repeat(200_000)}`;
  expect((await admin.post('/v1/parts', deep)).status).toBe(422);
  expect((await admin.post('/v1/parts', `${deep.slice(0, 100_000)}"\\u0000"`)).status).toBe(422);
  expect(
    (await admin.post('/v1/parts', `{"description":${'['.repeat(50_000)}"\\u0000"${']'.repeat(50_000)}}`))
      .status,
  ).toBe(422);
});

test('a key that stands twice and a hidden character are refused where they stand', async () => {
  const refused = await admin.post(
    '/v1/parts',
    '{"kind":"consumable","code":"c","code":"d","description":"a"}',
  );
  expect(refused.status).toBe(422);
  expect(refused.json<{ findings: object[] }>().findings).toMatchObject([
    { code: 'duplicate-key', at: '/code', where: 'line 1, column 33' },
  ]);
  const hidden = await admin.post('/v1/parts', { kind: 'consumable', code: 'c', description: 'a\u202eb' });
  expect(hidden.status).toBe(422);
  expect(hidden.text).not.toContain('\u202e');
  expect(hidden.json<{ findings: object[] }>().findings).toMatchObject([
    { code: 'hidden-character', at: '/description' },
  ]);
});
