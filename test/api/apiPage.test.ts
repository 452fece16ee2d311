import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { curlCalls, type CurlCall } from '../support/curl.ts';
import type { Client, Got } from '../support/client.ts';
import { exampleJob, loadJobFile } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

const page = readFileSync(new URL('../../docs/api.md', import.meta.url), 'utf8');
const section = /^([\s\S]*?)^## All calls$/m.exec(page)?.[1] ?? '';
const blocks = [...section.matchAll(/^```\n([\s\S]*?)^```$/gm)].map(([, block = '']) => block);

/** Each call, and for the last one of a block the answer that the page shows beneath it. */
const calls = blocks.flatMap((block, at) => {
  const made = curlCalls(block);
  const next = blocks[at + 1];
  const sample = next !== undefined && /^(\{|line,)/.test(next) ? next : undefined;
  return made.map((call, index) => ({ call, sample: index === made.length - 1 ? sample : undefined }));
});

/** What differs from one day and machine to another, as a word. */
function masked(text: string): string {
  return text
    .replaceAll(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, '<id>')
    .replaceAll(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, '<time>')
    .replaceAll(/"[0-9a-f]{64}"/g, '"<hash>"')
    .replaceAll('\r\n', '\n');
}

let house: TestHouse;
let admin: Client;
const answers: { call: CurlCall; sample: string | undefined; got: Got }[] = [];
const variables: Record<string, string> = {};

/** All calls of the section, one after the other, as a reader would type them; each task is waited for. */
beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  admin = await (await house.club()).as('admin');
  const key = (await admin.post('/v1/keys', { role: 'admin', label: 'as the first start makes' })).json();
  variables['KEY'] = String(key['secret']);
  expect(section).toContain('npm run load -- examples/trailer/job.json --terms');
  const job = exampleJob('trailer');
  const { headers } = await admin.get('/v1/club');
  await admin.put('/v1/club', job.club, { 'if-match': headers.get('etag') ?? '' });
  await loadJobFile(admin, job);
  for (const { call: read, sample } of calls) {
    const call = read(variables);
    const { method, path, headers, body } = call;
    const got = await house.anonymous.send(method, path, {
      headers,
      ...(body === undefined ? {} : { body }),
    });
    answers.push({ call, sample, got });
    if (call.keeps) variables[call.keeps.name] = call.keeps.finds.exec(got.text)?.[0] ?? '';
    if (got.status === 202) await admin.get(`${String(got.json()['task'])}/events`);
  }
}, 120_000);
afterAll(() => house.close());

describe('the calls that docs/api.md shows', () => {
  test('are there, and some of them with their answers', () => {
    expect(answers.length).toBeGreaterThanOrEqual(6);
    expect(answers.filter(({ sample }) => sample !== undefined).length).toBeGreaterThanOrEqual(3);
  });

  test('are all answered', () => {
    for (const { call, got } of answers) expect([call.path, got.status < 300]).toEqual([call.path, true]);
  });

  test('are answered as it shows, but for ids, times and hashes', () => {
    for (const { call, sample, got } of answers) {
      if (sample === undefined) continue;
      if (sample.startsWith('{'))
        expect({ path: call.path, answer: JSON.parse(masked(got.text)) as unknown }).toEqual({
          path: call.path,
          answer: JSON.parse(masked(sample)) as unknown,
        });
      else expect(masked(got.text)).toBe(sample);
    }
  });

  test('give the quote’s fields in the order in which it shows them', () => {
    const shown = answers.filter(({ sample }) => sample?.startsWith('{"id"'));
    expect(shown).toHaveLength(1);
    for (const { sample = '{}', got } of shown)
      expect(Object.keys(got.json())).toEqual(Object.keys(JSON.parse(sample) as object));
  });

  test('give the fields of an offer’s price that it names', () => {
    const price = answers.find(({ call }) => /winning-prices\/./.test(call.path))?.got.json();
    expect(price).toMatchObject({ state: 'done', answer: { outcome: 'wins', proof: { status: 'proven' } } });
    expect(Object.keys(price?.['answer'] as object)).toEqual(expect.arrayContaining(['at', 'losesAt']));
  });
});

describe('an order list of that page', () => {
  const list = () => `${variables['QUOTE']}/order-lists/mossgate`;

  test('is a page to print with format=html, as the sentence above the call says', async () => {
    expect(section).toContain('with `format=html` as a page to print');
    const page = await admin.get(`${list()}?format=html`);
    expect(page.headers.get('content-type')).toBe('text/html; charset=utf-8');
    expect(page.text).toMatch(/^<!doctype html>[\s\S]*Mossgate Wiring[\s\S]*TW10-G[\s\S]*<\/html>\s*$/);
  });

  test('is JSON without a format, and stands so in the list of all', async () => {
    const { items } = (await admin.get(`${variables['QUOTE']}/order-lists`)).json<{ items: unknown[] }>();
    expect(items).toContainEqual((await admin.get(list())).json());
  });
});

test('every path that it names is one that /openapi.json describes', async () => {
  const plain = (path: string) => path.replaceAll(/\{[^}]*\}/g, '{}').replace(/\?.*$/, '');
  const known = Object.keys((await admin.get('/openapi.json')).json<{ paths: object }>().paths).map(plain);
  const named = [...page.matchAll(/`(?:(?:GET|PUT|POST|DELETE) )?(\/v1\/[^`\s]*)`/g)].map(
    ([, path = '']) => path,
  );
  expect(named.length).toBeGreaterThan(5);
  for (const path of named) expect(known).toContain(plain(path));
});
