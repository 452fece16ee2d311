import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client, Got } from '../support/client.ts';
import { exampleJob, loadJobFile, loadSmall, oneWireLoom } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
});
afterAll(() => house.close());

interface Quote {
  id: string;
  state: string;
  task: string;
  result: string;
  job: string;
  orderLists: string;
}

interface Event {
  id: number;
  event: string;
  task: { state: string; progress: { number: number }; workSeconds?: number };
}

function eventsOf(got: Got): Event[] {
  return got.text
    .split('\n\n')
    .filter((block) => block.includes('data:'))
    .map((block) => {
      const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(block)?.[1] ?? '';
      return {
        id: Number(field('id')),
        event: field('event'),
        task: JSON.parse(field('data')) as Event['task'],
      };
    });
}

/** Asks for a quote and follows its task to the end. */
async function quoted(client: Client, request: object): Promise<{ quote: Quote; events: Event[] }> {
  const asked = await client.post('/v1/quotes', request);
  expect(asked.status).toBe(202);
  const quote = asked.json<Quote & Record<string, unknown>>();
  expect(asked.headers.get('location')).toBe(`/v1/quotes/${quote.id}`);
  const events = eventsOf(await client.get(`${quote.task}/events`));
  return {
    quote: (await client.get(`/v1/quotes/${quote.id}`)).json<Quote & Record<string, unknown>>(),
    events,
  };
}

describe('a quote', () => {
  test('is answered with 202, followed as events to its end, and then has a result', async () => {
    const { quote, events } = await quoted(editor, {
      looms: [{ loom: 'loom', quantity: 1 }],
      asOf: '2026-11-01',
    });
    expect(quote.state).toBe('done');
    const numbers = events.map((event) => event.id);
    expect(numbers).toEqual([...new Set(numbers)].sort((a, b) => a - b));
    expect(events.at(-1)).toMatchObject({ event: 'ended', task: { state: 'done' } });
    expect(events.at(-1)?.task.workSeconds).toBeGreaterThan(0);
    const result = (await editor.get(quote.result)).json<Result & Record<string, unknown>>();
    expect(result.asOf).toBe('2026-11-01');
    // By hand: 500 mm route + 3 % 15 + 2 × (0 + 6 + 12) = 551 mm, and 300 mm to spare, as 10 % is less: 851 mm, sold by the metre: 0.50; 2 rings and 1 spare, one pack: 2.00.
    const needs = result.requirements.map((need) => [
      need.id,
      need.kind === 'count' ? need.quantity : need.totalMm,
    ]);
    expect(Object.fromEntries(needs)).toEqual({ 'part:ring-6': 3, 'wire:thin-wall:1mm2:red': 851 });
    expect(result.costs.total).toEqual({ amount: '2.50', currency: 'GBP' });
  });

  test('that was read before it is done is a 409 that says so', async () => {
    const idle = await openHouse();
    try {
      const own = await (await idle.club()).as('editor');
      await loadSmall(own);
      const quote = (await own.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })).json<
        Quote & Record<string, unknown>
      >();
      for (const path of [quote.result, quote.job, quote.orderLists]) {
        const got = await own.get(path);
        expect(got.status).toBe(409);
        expect(got.json()['detail']).toContain('not ready yet');
      }
    } finally {
      await idle.close();
    }
  });

  test('is pinned to the revision that was the latest when it was asked for', async () => {
    const { quote } = await quoted(editor, { looms: [{ loom: 'loom', quantity: 1 }] });
    expect(quote).toMatchObject({ request: { looms: [{ loom: 'loom', revision: 1, quantity: 1 }] } });
  });

  test('keeps the options with which a loom is made, and refuses those that its revision does not have', async () => {
    const own = await (await house.club()).as('editor');
    await loadSmall(own);
    const { code: _code, ...content } = oneWireLoom('opt');
    await own.post('/v1/looms', { ...content, code: 'opt', options: ['RHD', 'tow'] });
    const tag = { 'if-match': (await own.get('/v1/looms/opt')).headers.get('etag') ?? '' };
    await own.post('/v1/looms/opt/revisions', { ...content, options: ['LHD'] }, tag);
    const kept = await own.post('/v1/quotes', {
      looms: [{ loom: 'opt', revision: 1, quantity: 2, options: ['tow', 'RHD'] }],
    });
    expect(kept.status).toBe(202);
    const { id } = kept.json<{ id: string }>();
    for (const quote of [kept, await own.get(`/v1/quotes/${id}`)])
      expect(quote.json()['request']).toEqual({
        looms: [{ loom: 'opt', revision: 1, quantity: 2, options: ['tow', 'RHD'] }],
      });
    const refused = await own.post('/v1/quotes', {
      looms: [
        { loom: 'opt', quantity: 1, options: ['LHD', 'RHD'] },
        { loom: 'loom', quantity: 1, options: ['any'] },
        { loom: 'ghost', quantity: 1, options: ['RHD'] },
      ],
    });
    expect(refused.status).toBe(422);
    const { findings } = refused.json<{ findings: { at: string; code: string; todo: string }[] }>();
    expect(findings.map(({ code, at }) => `${code} ${at}`).sort()).toEqual([
      'unknown-loom /looms/2/loom',
      'unknown-option /looms/0/options/1',
      'unknown-option /looms/1/options/0',
    ]);
    expect(findings.find(({ at }) => at === '/looms/0/options/1')?.todo).toContain('has the options LHD.');
    expect(findings.find(({ at }) => at === '/looms/1/options/0')?.todo).toContain('has no options');
  });

  test('keeps its order lists, as JSON, as CSV and as a page to print', async () => {
    const { quote } = await quoted(editor, { looms: [{ loom: 'loom', quantity: 1 }] });
    const lists = (await editor.get(quote.orderLists)).json<{
      items: { supplier: string; total: unknown }[];
    }>().items;
    expect(lists.map((list) => list.supplier)).toEqual(['shop']);
    const json = await editor.get(`${quote.orderLists}/shop`);
    expect(json.json()).toEqual(lists[0]);
    const csv = await editor.get(`${quote.orderLists}/shop`, { accept: 'text/csv' });
    expect(csv.headers.get('content-type')).toMatch(/^text\/csv/);
    expect((await editor.get(`${quote.orderLists}/shop?format=csv`)).text).toBe(csv.text);
    expect(csv.text).toContain('Ring for a 6 mm stud');
    const page = await editor.get(`${quote.orderLists}/shop?format=html`);
    expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    expect(page.text).toContain('Ring for a 6 mm stud');
    // What is stated in the query goes before what a browser asks for by itself.
    expect((await editor.get(`${quote.orderLists}/shop?format=json`, { accept: 'text/html' })).text).toBe(
      json.text,
    );
    expect((await editor.get(`${quote.orderLists}/shop`, { accept: 'text/html' })).text).toBe(page.text);
    const unknown = await editor.get(`${quote.orderLists}/shop?format=pdf`);
    expect([unknown.status, unknown.text]).toEqual([422, expect.stringContaining('json, csv, html')]);
    expect((await editor.get(`${quote.orderLists}/nobody`)).status).toBe(404);
  });

  test('is read as a page to print and as text, with its appendix where that is asked for', async () => {
    const { quote } = await quoted(editor, { looms: [{ loom: 'loom', quantity: 1 }] });
    const page = await editor.get(`${quote.result}?format=html`);
    expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(page.text).toContain('<h2>Cut list</h2>');
    expect((await editor.get(quote.result, { accept: 'text/html' })).text).toBe(page.text);
    const text = await editor.get(`${quote.result}?format=text`);
    expect(text.headers.get('content-type')).toBe('text/plain; charset=utf-8');
    expect(text.text).toMatch(/^Quote as of [\s\S]*full=true\.\n$/);
    expect((await editor.get(quote.result, { accept: 'text/plain' })).text).toBe(text.text);
    for (const format of ['html', 'text']) {
      const full = await editor.get(`${quote.result}?format=${format}&full=true`);
      expect([full.text.includes('Assumptions'), full.text.includes('full=true')]).toEqual([true, false]);
    }
    expect((await editor.get(quote.result, { accept: '*/*' })).json()['format']).toBe('loomwright-result');
    expect(page.headers.get('etag')).not.toBe(text.headers.get('etag'));
  });

  test('prints who orders: the club’s buyer, and over it what the request states', async () => {
    const own = await house.club();
    const admin = await own.as('admin');
    await loadSmall(admin);
    const { json, headers } = await admin.get('/v1/club');
    const terms = { currency: json()['currency'], settings: {} };
    const buyer = { name: 'Burrow Club', address: '4 Mill Lane', phone: '01234', email: 'a@club.example' };
    const set = await admin.put('/v1/club', { ...terms, buyer }, { 'if-match': headers.get('etag') ?? '' });
    expect([set.status, set.json()['buyer']]).toEqual([200, buyer]);
    const { quote } = await quoted(admin, {
      looms: [{ loom: 'loom', quantity: 1 }],
      buyer: { phone: '05678' },
      reference: 'R 7',
    });
    const [list] = (await admin.get(quote.orderLists)).json<{ items: object[] }>().items;
    expect(list).toMatchObject({ buyer: { ...buyer, phone: '05678' }, reference: 'R 7' });
    const tag = { 'if-match': (await admin.get('/v1/club')).headers.get('etag') ?? '' };
    expect((await admin.put('/v1/club', terms, tag)).json()).not.toHaveProperty('buyer');
  });

  test('that asks for more time than its club lets it have is refused with 422, and says what it may have', async () => {
    const own = await house.club();
    const asker = await own.as('editor');
    await loadSmall(asker);
    const ask = (seconds: number) =>
      asker.post('/v1/quotes', {
        looms: [{ loom: 'loom', quantity: 1 }],
        settings: { solverSeconds: seconds, besideSeconds: seconds, buildOrBuySeconds: seconds },
      });
    expect((await ask(600)).status).toBe(202);
    const admin = await own.as('admin');
    const { headers } = await admin.get('/v1/club');
    const terms = { currency: 'GBP', settings: { secondsAtMost: 60 } };
    const set = await admin.put('/v1/club', terms, { 'if-match': headers.get('etag') ?? '' });
    expect([set.status, set.json()]).toEqual([200, expect.objectContaining(terms)]);
    const refused = await ask(61);
    expect(refused.status).toBe(422);
    // The club itself lets the solver and the comparison work 60 s, and close alternatives 10 s.
    expect(refused.json<{ findings: object[] }>().findings).toMatchObject(
      ['solverSeconds', 'besideSeconds', 'buildOrBuySeconds'].map((name) => ({
        code: 'too-much-time',
        at: `/settings/${name}`,
        limit: 'at most 60 s',
      })),
    );
    expect((await ask(60)).status).toBe(202);
  });

  test('stands in the list, newest first, page by page', async () => {
    const own = await (await house.club()).as('editor');
    await loadSmall(own);
    const ids: string[] = [];
    for (let n = 0; n < 5; n++)
      ids.unshift(
        (await own.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: n + 1 }] })).json<{ id: string }>()
          .id,
      );
    const seen: string[] = [];
    let path: string | undefined = '/v1/quotes?limit=2';
    while (path !== undefined) {
      const page: Got = await own.get(path);
      seen.push(...page.json<{ items: { id: string }[] }>().items.map((item) => item.id));
      path = /<([^>]+)>/.exec(page.headers.get('link') ?? '')?.[1];
    }
    expect(seen).toEqual(ids);
  });
});

describe('the three-wire example through the API', () => {
  test('equals what was worked by hand, to the penny and the millimetre', async () => {
    const own = await house.club();
    const admin = await own.as('admin');
    const job = exampleJob('three-wires');
    await loadJobFile(admin, job);
    const terms = await admin.get('/v1/club');
    await admin.put('/v1/club', job.club, { 'if-match': terms.headers.get('etag') ?? '' });
    const { quote } = await quoted(admin, { ...job.request, asOf: job.asOf });
    const result = (await admin.get(quote.result)).json<Result & Record<string, unknown>>();
    const hand = JSON.parse(
      readFileSync(new URL('../../examples/three-wires/expected.json', import.meta.url), 'utf8'),
    ) as {
      cutMm: Record<string, number>;
      total: string;
    };
    const cuts = result.requirements.flatMap((need) =>
      need.kind === 'wire' ? need.pieces.map((piece) => [piece.wire, piece.cutMm]) : [],
    );
    expect(Object.fromEntries(cuts)).toEqual(hand.cutMm);
    expect(result.costs.total.amount).toBe(hand.total);
  });
});

describe('a task', () => {
  test('that waits is cancelled at once, and cannot be cancelled again', async () => {
    const idle = await openHouse();
    try {
      const own = await (await idle.club()).as('editor');
      await loadSmall(own);
      const { task, result } = (
        await own.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })
      ).json<Quote & Record<string, unknown>>();
      const cancelled = await own.post(`${task}/cancel`, undefined);
      expect(cancelled.status).toBe(202);
      expect(cancelled.json()['state']).toBe('cancelled');
      expect((await own.post(`${task}/cancel`, undefined)).status).toBe(409);
      expect((await own.get(result)).status).toBe(409);
      expect(eventsOf(await own.get(`${task}/events`)).map((event) => event.event)).toEqual(['ended']);
    } finally {
      await idle.close();
    }
  });

  test('that has ended tells so to whoever comes with its last event', async () => {
    const { quote, events } = await quoted(editor, { looms: [{ loom: 'loom', quantity: 1 }] });
    const again = eventsOf(
      await editor.get(`${quote.task}/events`, { 'last-event-id': String(events.at(-1)?.id) }),
    );
    expect(again.map((event) => event.event)).toEqual(['ended']);
  });
});
