import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createApp } from '../../api/app.ts';
import type { Deps } from '../../api/http/deps.ts';
import { PROBLEM_KINDS } from '../../api/http/problem.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, oneWireLoom, ring } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let editor: Client;
let quote: { result: string; task: string; orderLists: string; job: string };

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  const club = await house.club();
  editor = await club.as('admin');
  await loadSmall(editor);
  const asked = await editor.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
  quote = asked.json();
  await editor.get(`${quote.task}/events`);
});
afterAll(() => house.close());

const gzip = { 'accept-encoding': 'gzip' };

describe('a problem (RFC 9457)', () => {
  test('has a type that leads to a page of its kind, without a key, in plain words (§3.1.1)', async () => {
    const { type } = (await editor.get('/v1/parts/nothing')).json<{ type: string }>();
    expect(type).toBe('/problems/not-found');
    const page = await house.anonymous.get(type, { accept: 'text/html' });
    expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    for (const heading of ['Why', 'What to do', 'Example'])
      expect(page.text).toContain(`<h2>${heading}</h2>`);
  });

  test('has a page for each kind, and a list of all', async () => {
    const all = (await house.anonymous.get('/problems')).text;
    for (const kind of PROBLEM_KINDS) {
      expect(all).toContain(`href="/problems/${kind}"`);
      expect((await house.anonymous.get(`/problems/${kind}`)).status).toBe(200);
    }
    expect((await house.anonymous.get('/problems/no-such')).status).toBe(404);
  });

  test('has an absolute type where the server’s public address is set, whatever Host a caller sends', async () => {
    const deps = { log: { info: () => undefined, error: () => undefined }, newId: () => 'x' };
    const app = createApp({ ...deps, publicUrl: 'https://looms.example.org' } as unknown as Deps);
    const got = await app.request('/nothing', { headers: { host: 'evil.example' } });
    const { type } = (await got.json()) as { type: string };
    expect(type).toBe('https://looms.example.org/problems/not-found');
  });

  test('names its occurrence, another each time though the request id is the same (§3.1.5)', async () => {
    const instance = async () => {
      const got = await editor.get('/v1/parts/nothing', { 'x-request-id': 'mine' });
      return got.json<{ instance: string }>().instance;
    };
    const first = await instance();
    expect(first).toMatch(/^urn:uuid:[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
    expect(await instance()).not.toBe(first);
  });
});

describe('what is accepted is told when to be asked about again (RFC 9110 §10.2.3)', () => {
  test('a quote', async () => {
    const got = await editor.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 2 }] });
    expect([got.status, got.headers.get('retry-after')]).toEqual([202, expect.stringMatching(/^[1-9]\d?$/)]);
  });
});

describe('methods (RFC 9110 §9.3)', () => {
  test('OPTIONS tells those of a path, without a key, and 404 where there is no path', async () => {
    const got = await house.anonymous.send('OPTIONS', '/v1/parts');
    expect([got.status, got.headers.get('allow')]).toEqual([204, 'GET, HEAD, POST, OPTIONS']);
    expect((await house.anonymous.send('OPTIONS', '/v1/nothing')).status).toBe(404);
  });

  test('HEAD has the headers of GET, its length included, and no body, packed or not', async () => {
    for (const path of ['/v1/parts', quote.result, '/openapi.json'])
      for (const headers of [{}, gzip]) {
        const get = await editor.get(path, headers);
        const head = await editor.send('HEAD', path, { headers });
        expect([path, head.status, head.text]).toEqual([path, 200, '']);
        expect(head.headers.get('content-length')).toBe(String(get.bytes.byteLength));
        for (const name of ['etag', 'content-type', 'content-encoding', 'vary', 'cache-control'])
          expect([name, head.headers.get(name)]).toEqual([name, get.headers.get(name)]);
      }
    for (const path of [
      `${quote.task}/events`,
      `${quote.result.replace('result', 'sheets/all')}?format=pdf`,
    ]) {
      const head = await editor.send('HEAD', path);
      expect([path, head.status, head.text]).toEqual([path, 200, '']);
    }
  });
});

describe('packing (RFC 9110 §8.4, §8.8.3.3)', () => {
  test('is another representation with a strong tag of its own, which both conditions know', async () => {
    const big = { ...ring, code: 'big', note: 'long '.repeat(300) };
    await editor.post('/v1/parts', big);
    const plain = (await editor.get('/v1/parts/big')).headers;
    const small = (await editor.get('/v1/parts/big', gzip)).headers;
    expect([small.get('content-encoding'), plain.get('content-encoding')]).toEqual(['gzip', null]);
    expect(small.get('etag')).not.toBe(plain.get('etag'));
    expect(small.get('etag')).toMatch(/^"/);
    for (const headers of [plain, small]) expect(headers.get('vary')).toContain('accept-encoding');
    const etag = small.get('etag') ?? '';
    const known = await editor.get('/v1/parts/big', { 'if-none-match': etag });
    expect([known.status, known.headers.get('etag')]).toEqual([304, etag]);
    expect((await editor.put('/v1/parts/big', big, { 'if-match': etag })).status).toBe(200);
    expect((await editor.put('/v1/parts/big', big, { 'if-match': etag })).status).toBe(412);
  });

  test('gives back the very bytes, of texts that are stored and of those made while they are sent', async () => {
    const sheet = quote.result.replace('result', 'sheets/test');
    for (const path of [quote.result, '/v1/parts?format=csv', `${quote.result}?format=html`, sheet]) {
      const got = await editor.get(path, gzip);
      expect([path, got.headers.get('content-encoding')]).toEqual([path, 'gzip']);
      const plain = await editor.get(path);
      expect(got.text).toBe(plain.text);
      if (plain.bytes.byteLength > 1024) expect(got.bytes.byteLength).toBeLessThan(plain.bytes.byteLength);
    }
  });

  test('leaves alone what is short, what is packed already and what streams events', async () => {
    for (const path of ['/v1/club/archive', `${quote.task}/events`, '/healthz']) {
      const got = await editor.get(path, gzip);
      expect([path, got.headers.get('content-encoding')]).toEqual([path, null]);
    }
  });
});

describe('what may be kept (RFC 9111 §5.2.2)', () => {
  test.each([
    ['the result of a quote that is whole', () => quote.result, 'private, max-age=31536000, immutable'],
    [
      'its page, which another version of the program writes anew',
      () => `${quote.result}?format=html`,
      'private, no-cache',
    ],
    ['a sheet', () => `${quote.result.replace('result', 'sheets/test')}`, 'private, no-cache'],
    ['a part', () => '/v1/parts/ring-6', 'private, no-cache'],
    ['a loom', () => '/v1/looms/loom', 'private, no-cache'],
    ['an offer', () => '/v1/offers/ring-pack', 'private, no-store'],
    ['offers as a table', () => '/v1/offers?format=csv', 'private, no-store'],
    ['quotes', () => '/v1/quotes', 'private, no-store'],
    ['order lists', () => quote.orderLists, 'private, no-store'],
    ['the club', () => '/v1/club', 'private, no-store'],
    ['keys', () => '/v1/keys', 'private, no-store'],
    ['a problem', () => '/v1/parts/nothing', 'no-store'],
    ['the document', () => '/openapi.json', 'public, max-age=300'],
  ])('%s', async (_what, path, caching) => {
    expect((await editor.get(path())).headers.get('cache-control')).toBe(caching);
  });

  test('lists and quotes have a tag, and are not sent again while they are the same', async () => {
    for (const path of ['/v1/quotes', '/v1/offers', '/v1/parts', '/openapi.json']) {
      const etag = (await editor.get(path)).headers.get('etag') ?? '';
      const again = await editor.get(path, { 'if-none-match': etag });
      expect([path, again.status, again.headers.get('etag')]).toEqual([path, 304, etag]);
      // RFC 9110 §15.4.5.
      expect(again.headers.get('cache-control')).not.toBeNull();
    }
    const before = (await editor.get('/v1/looms')).headers.get('etag') ?? '';
    await editor.post('/v1/looms', oneWireLoom('second'));
    expect((await editor.get('/v1/looms', { 'if-none-match': before })).status).toBe(200);
  });
});

describe('what can only be had as JSON', () => {
  test('is refused to whoever takes only another type (RFC 9110 §15.5.7), with the types that there are', async () => {
    for (const path of ['/v1/club', quote.job, '/v1/offers/ring-pack', '/healthz']) {
      const got = await editor.get(path, { accept: 'text/csv' });
      expect([path, got.status, got.json()['detail']]).toEqual([
        path,
        406,
        expect.stringContaining('application/json'),
      ]);
    }
    expect((await editor.get('/v1/club', { accept: 'text/html, */*;q=0.1' })).status).toBe(200);
  });

  test('does nothing before it refuses', async () => {
    const got = await editor.post('/v1/parts', { ...ring, code: 'unseen' }, { accept: 'text/csv' });
    expect(got.status).toBe(406);
    expect((await editor.get('/v1/parts/unseen')).status).toBe(404);
  });
});

test('every answer says how it may be used; a page stands in no frame and sends no form', async () => {
  for (const path of ['/v1/parts', `${quote.result}?format=html`, '/problems', '/v1/nothing']) {
    const { headers } = await editor.get(path);
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    if (headers.get('content-type')?.startsWith('text/html'))
      for (const rule of ['frame-ancestors', 'base-uri', 'form-action', 'default-src'])
        expect(headers.get('content-security-policy')).toContain(`${rule} 'none'`);
  }
});
