import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import type { WinningPrice } from '../../worker/engine/model/winningPrice.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import type { Client, Got } from '../support/client.ts';
import { gbp, loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { askQuote, timesRecorded, untilTask } from '../support/taskRows.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let quote: string;

const dearer = {
  form: 'pack',
  code: 'ring-dear',
  supplier: 'other',
  part: 'ring-6',
  packCount: 10,
  packPrice: gbp('2.50'),
};

/** The small catalogue, with a second shop that sells its ring dearer, and one that was used before. */
async function load(client: Client): Promise<void> {
  await loadSmall(client);
  await client.post('/v1/suppliers', { code: 'other', name: 'Other Shop', currency: 'GBP' });
  await client.post('/v1/offers', dearer);
  await client.post('/v1/offers', { ...dearer, code: 'ring-used', condition: 'used' });
}

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  club = await house.club();
  editor = await club.as('editor');
  await load(editor);
  const asked = await askQuote(editor, 'loom');
  await untilTask(house.database, asked.task, { state: 'done' });
  quote = `/v1/quotes/${asked.quote}`;
});
afterAll(() => house.close());

interface Asked {
  offer: string;
  state: string;
  task: string;
  answer?: WinningPrice;
}

const asked = (got: Got) => got.json<Asked & Record<string, unknown>>();
const taskId = (got: Got) => asked(got).task.split('/').at(-1) ?? '';
const detail = (got: Got) => got.json<{ detail: string }>().detail;

/** Asks for the price of an offer and waits until its task has ended so. */
async function askFor(offer: string, state: 'done' | 'failed' = 'done', client = editor): Promise<Got> {
  const got = await client.post(`${quote}/winning-prices`, { offer });
  expect(got.status).toBe(202);
  expect(got.headers.get('location')).toBe(`${quote}/winning-prices/${offer}`);
  await untilTask(house.database, taskId(got), { state });
  return client.get(`${quote}/winning-prices/${offer}`);
}

describe('the winning price of an offer', () => {
  test('is taken in with 202, worked as a task of its own, and answered from the quote’s job', async () => {
    const got = await askFor('ring-dear', 'done', await club.as('member'));
    const { answer, state, task } = asked(got);
    expect(state).toBe('done');
    // By hand: three rings, a pack of either; the other shop’s costs 2.00.
    expect(answer).toMatchObject({
      outcome: 'wins',
      stated: { first: gbp('2.50') },
      at: { prices: { first: gbp('2.00') }, buys: [{ packs: 1 }], total: gbp('2.50') },
      losesAt: { first: gbp('2.01') },
      without: { total: gbp('2.50') },
      proof: { status: 'proven' },
    });
    const job = Job.parse((await editor.get(`${quote}/job`)).json());
    const control = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };
    expect(answer).toEqual(await winningPrice(job, 'ring-dear', control));
    const shown = (await editor.get(task)).json();
    expect(shown).toMatchObject({
      kind: 'winningPrice',
      state: 'done',
      quote,
      winningPrice: `${quote}/winning-prices/ring-dear`,
    });
    expect((await editor.get(quote)).json()).toMatchObject({ winningPrices: `${quote}/winning-prices` });
  });

  test('is followed as events to its end', async () => {
    const got = await editor.post(`${quote}/winning-prices`, { offer: 'ring-pack' });
    const events = await editor.get(`${asked(got).task}/events`);
    expect(events.text).toMatch(/event: ended\ndata: .*"state":"done"/);
  });

  test('is about the prices that the quote was worked with, whatever they are now', async () => {
    const path = '/v1/offers/red-metre';
    const read = await editor.get(path);
    const change = { ...read.json<Record<string, unknown>>(), pricePerMetre: gbp('9.00') };
    expect((await editor.put(path, change, { 'if-match': read.headers.get('etag') ?? '' })).status).toBe(200);
    expect(asked(await askFor('red-metre')).answer).toMatchObject({
      outcome: 'always',
      stated: { first: gbp('0.50') },
      without: { unsourced: 1 },
    });
  });

  test('is not worked again where it was answered, and leaves one audit row', async () => {
    const first = await askFor('ring-dear');
    const again = await editor.post(`${quote}/winning-prices`, { offer: 'ring-dear' });
    expect([again.status, asked(again).task, asked(again).answer]).toEqual([
      202,
      asked(first).task,
      asked(first).answer,
    ]);
    const subject = `${quote.split('/').at(-1) ?? ''}/ring-dear`;
    expect(await timesRecorded(house.database, 'winning-price.ask', subject)).toBe(1);
    expect(await timesRecorded(house.database, 'task.done', taskId(first))).toBe(1);
  });

  test('asked for with an Idempotency-Key is answered the same again, and 422 with another offer', async () => {
    const key = { 'idempotency-key': 'winning-1' };
    const first = await editor.post(`${quote}/winning-prices`, { offer: 'ring-dear' }, key);
    const again = await editor.post(`${quote}/winning-prices`, { offer: 'ring-dear' }, key);
    expect([again.text, again.headers.get('idempotent-replay')]).toEqual([first.text, 'true']);
    expect((await editor.post(`${quote}/winning-prices`, { offer: 'ring-pack' }, key)).status).toBe(422);
  });

  test('of an offer that cannot be bought fails its task with the reasons, and may be asked again', async () => {
    const first = await askFor('ring-used', 'failed');
    expect(asked(first)).toMatchObject({ state: 'failed' });
    expect(asked(first).answer).toBeUndefined();
    const { problem } = (await editor.get(asked(first).task)).json<{
      problem: { code: string; findings: { code: string }[] };
    }>();
    expect(problem.code).toBe('offer-not-usable');
    expect(problem.findings.map(({ code }) => code)).toEqual(['offer-not-usable', 'condition-not-accepted']);
    expect(taskId(await askFor('ring-used', 'failed'))).not.toBe(taskId(first));
  });

  test('stands in a list by the offer’s code, page by page', async () => {
    for (const offer of ['ring-dear', 'red-metre', 'ring-pack']) await askFor(offer);
    const own = `${quote}/winning-prices`;
    const seen: string[] = [];
    let path: string | undefined = `${own}?limit=2`;
    while (path !== undefined) {
      const page: Got = await editor.get(path);
      seen.push(...page.json<{ items: Asked[] }>().items.map(({ offer }) => offer));
      path = /<([^>]+)>/.exec(page.headers.get('link') ?? '')?.[1];
    }
    expect(seen).toEqual(['red-metre', 'ring-dear', 'ring-pack', 'ring-used']);
  });
});

describe('is refused', () => {
  test('to a viewer with 403, who may read what was asked', async () => {
    const viewer = await club.as('viewer');
    expect((await viewer.post(`${quote}/winning-prices`, { offer: 'ring-dear' })).status).toBe(403);
    await askFor('ring-dear');
    expect((await viewer.get(`${quote}/winning-prices/ring-dear`)).status).toBe(200);
  });

  test('of a quote that is not there, or is another club’s, with the same 404', async () => {
    const other = await (await house.club()).as('admin');
    const nowhere = '/v1/quotes/01890000-0000-7000-8000-000000000000';
    for (const [client, path] of [
      [editor, nowhere],
      [other, quote],
    ] as const) {
      expect((await client.post(`${path}/winning-prices`, { offer: 'ring-dear' })).status).toBe(404);
      expect((await client.get(`${path}/winning-prices`)).status).toBe(404);
      expect((await client.get(`${path}/winning-prices/ring-dear`)).status).toBe(404);
    }
    expect((await editor.get(`${quote}/winning-prices/never-asked`)).status).toBe(404);
  });

  test('of an offer that the quote’s job does not have with a 409 that says so', async () => {
    const got = await editor.post(`${quote}/winning-prices`, { offer: 'ghost' });
    expect([got.status, detail(got)]).toEqual([409, expect.stringContaining('without the offer ghost')]);
    expect((await editor.get(`${quote}/winning-prices/ghost`)).status).toBe(404);
  });

  test('until the quote is done with a 409 that says so', async () => {
    const idle = await openHouse();
    onTestFinished(() => idle.close());
    const own = await (await idle.club()).as('editor');
    await loadSmall(own);
    const waiting = await askQuote(own, 'loom');
    const got = await own.post(`/v1/quotes/${waiting.quote}/winning-prices`, { offer: 'ring-pack' });
    expect([got.status, detail(got)]).toEqual([409, expect.stringContaining('not ready yet')]);
  });

  test.each([[{}], [{ offer: 'no such code' }], [{ offer: 'ring-dear', price: 2 }]])(
    'of a body %j with 422',
    async (body) => {
      expect((await editor.post(`${quote}/winning-prices`, body)).status).toBe(422);
    },
  );
});
