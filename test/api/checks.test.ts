import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import type { Checks } from '../../worker/engine/model/checks.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bigJob } from '../support/bigLoom.ts';
import type { Client } from '../support/client.ts';
import { loadJobFile, loadSmall, oneWireLoom, redWire, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { storeJob } from '../support/storeJob.ts';
import { ANSWERS, poolOf } from '../support/threads.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let viewer: Client;

type Wire = NonNullable<JobInput['looms'][number]['wires']>[number];

/** Of three wires, the second has no length and stands only with the option RHD. */
function withOption(code: string) {
  const loom = oneWireLoom(code);
  const [measured] = loom.wires;
  if (!measured) throw new Error('the loom has a wire');
  const { length: _none, ...unmeasured } = measured;
  return {
    ...loom,
    options: ['RHD', 'tow bar'],
    wires: [
      { ...measured, id: 'W2' },
      { ...unmeasured, id: 'W10', options: ['RHD'] },
      { ...measured, id: 'W1' },
    ],
  };
}

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  viewer = await club.as('viewer');
  await loadSmall(editor);
  await editor.post('/v1/looms', withOption('opt'));
});
afterAll(() => house.close());

async function checksOf(path: string, client = viewer): Promise<Checks> {
  const got = await client.get(path);
  expect([got.status, got.headers.get('content-type')]).toEqual([200, 'application/json']);
  return got.json<Checks & Record<string, unknown>>();
}

const lengthless = ({ findings }: Checks) => findings.filter(({ code }) => code === 'wire-without-length');

describe('the checks of a revision', () => {
  test('are read by a viewer, as of that revision', async () => {
    const { code: _code, ...content } = oneWireLoom('twice');
    await editor.post('/v1/looms', oneWireLoom('twice'));
    const tag = { 'if-match': (await editor.get('/v1/looms/twice')).headers.get('etag') ?? '' };
    const [wire] = content.wires;
    const { length: _none, ...unmeasured } = wire ?? {};
    await editor.post('/v1/looms/twice/revisions', { ...content, wires: [unmeasured] }, tag);
    const [first, second] = [
      await checksOf('/v1/looms/twice/revisions/1/checks'),
      await checksOf('/v1/looms/twice/revisions/2/checks'),
    ];
    expect(first).toMatchObject({ loom: 'twice', revision: 1, options: [] });
    expect(lengthless(first)).toEqual([]);
    expect(second.revision).toBe(2);
    expect(lengthless(second)).toMatchObject([{ severity: 'stop', at: '/wires/0' }]);
    expect(second.circuits).toEqual([{ id: 'twice/W1', names: [], wires: [{ loom: 'twice', wire: 'W1' }] }]);
  });

  test('are of the loom with the options asked for, and point into the revision as it is read', async () => {
    const path = '/v1/looms/opt/revisions/1/checks';
    expect(lengthless(await checksOf(path))).toEqual([]);
    expect(lengthless(await checksOf(`${path}?option=tow%20bar`))).toEqual([]);
    const both = await checksOf(`${path}?option=tow%20bar&option=RHD`);
    expect(both.options).toEqual(['RHD', 'tow bar']);
    const [finding] = lengthless(both);
    const read = (await viewer.get('/v1/looms/opt/revisions/1')).json<{ wires: Wire[] }>();
    expect(read.wires[Number(/^\/wires\/(\d+)$/.exec(finding?.at ?? '')?.[1])]?.id).toBe('W10');
  });

  test('know what is on offer, as a quote does: what somebody sells is not asked about', async () => {
    const loom = oneWireLoom('asks');
    const ask = (base: 'red' | 'black') => ({
      ...loom,
      code: `asks-${base}`,
      wires: loom.wires.map((wire) => ({ ...wire, colour: { base }, colourRule: 'ask' })),
    });
    const codes = async (base: 'red' | 'black') => {
      expect((await editor.post('/v1/looms', ask(base))).status).toBe(201);
      const { findings } = await checksOf(`/v1/looms/asks-${base}/revisions/1/checks`);
      return findings.map(({ code }) => code);
    };
    // Red wire is sold, black is not.
    expect(await codes('red')).not.toContain('colour-to-settle');
    expect(await codes('black')).toContain('colour-to-settle');
  });

  test('of options that the loom does not have are refused, each at its place, with those that it has', async () => {
    const got = await viewer.get('/v1/looms/opt/revisions/1/checks?option=LHD&option=RHD&option=rhd');
    expect(got.status).toBe(422);
    expect(got.json<{ findings: object[] }>().findings).toMatchObject([
      { code: 'unknown-option', at: '/option/0', found: '"LHD"', limit: 'one of RHD, tow bar' },
      { code: 'unknown-option', at: '/option/2', found: '"rhd"', limit: 'one of RHD, tow bar' },
    ]);
    const none = await viewer.get('/v1/looms/loom/revisions/1/checks?option=RHD');
    expect([none.status, none.text]).toEqual([422, expect.stringContaining('has no options')]);
  });

  test('of a loom with a choice ask for exactly one of its options', async () => {
    const loom = { ...withOption('sided'), options: ['RHD | LHD', 'tow bar'] };
    expect((await editor.post('/v1/looms', loom)).status).toBe(201);
    const path = '/v1/looms/sided/revisions/1/checks';
    expect(await checksOf(`${path}?option=LHD`)).toMatchObject({ options: ['LHD'] });
    for (const [query, found] of [
      ['', { code: 'one-of-not-chosen', at: '/option', found: 'none of them' }],
      ['?option=RHD&option=LHD', { code: 'one-of-chosen-twice', at: '/option/1', found: 'RHD and LHD' }],
    ] as const) {
      const got = await viewer.get(`${path}${query}`);
      expect(got.status).toBe(422);
      expect(got.json<{ findings: object[] }>().findings).toMatchObject([
        { ...found, limit: 'exactly one of RHD, LHD' },
      ]);
    }
  });

  test.each(['option=', 'options=RHD', `${'option=RHD&'.repeat(101)}`, `option=${'x'.repeat(201)}`])(
    'refuse the query %.40s with 422',
    async (query) => {
      expect((await viewer.get(`/v1/looms/opt/revisions/1/checks?${query}`)).status).toBe(422);
    },
  );

  test('of a loom or revision that is not there, or that is another club’s, are a 404', async () => {
    const theirs = await (await house.club()).as('admin');
    for (const [client, path] of [
      [viewer, '/v1/looms/ghost/revisions/1/checks'],
      [viewer, '/v1/looms/opt/revisions/2/checks'],
      [viewer, '/v1/looms/opt/revisions/0/checks'],
      [theirs, '/v1/looms/opt/revisions/1/checks'],
    ] as const)
      expect((await client.get(path)).status).toBe(404);
    expect((await house.anonymous.get('/v1/looms/opt/revisions/1/checks')).status).toBe(401);
  });

  test('know the fits of the club', async () => {
    const own = await (await house.club()).as('editor');
    const halves = [
      { kind: 'housing', code: 'plug', description: 'Plug', ways: 1 },
      { kind: 'housing', code: 'socket', description: 'Socket', ways: 1 },
    ];
    for (const half of [...halves, ring, redWire]) await own.post('/v1/parts', half);
    const added = await own.post('/v1/looms', {
      ...oneWireLoom('halves'),
      points: [
        { id: 'A', kind: 'connector', part: 'plug', matedTo: { point: 'B' } },
        { id: 'B', kind: 'connector', part: 'socket' },
      ],
    });
    expect(added.status).toBe(201);
    const path = '/v1/looms/halves/revisions/1/checks';
    const mating = (checks: Checks) => checks.findings.filter(({ found }) => /plug/.test(found)).length;
    const fit = { from: 'plug', relation: 'mates', to: 'socket', status: 'confirmed' };
    await own.post('/v1/fits', fit);
    const fitting = mating(await checksOf(path, own));
    const one = '/v1/fits/plug/mates/socket';
    const tag = { 'if-match': (await own.get(one)).headers.get('etag') ?? '' };
    expect((await own.put(one, { ...fit, status: 'refuted' }, tag)).status).toBe(200);
    expect(mating(await checksOf(path, own))).toBeGreaterThan(fitting);
  });

  test('of what cannot be worked any more are a 409 that says where the fault is', async () => {
    const own = await house.club();
    const mine = await own.as('editor');
    await loadSmall(mine);
    await own.run((ctx) =>
      ctx.tx.execute(sql`update parts set body = body || '{"terminalType": "glue"}' where code = 'ring-6'`),
    );
    const got = await mine.get('/v1/looms/loom/revisions/1/checks');
    expect(got.status).toBe(409);
    expect(got.json()['detail']).toMatch(/\/parts\/\d\/terminalType/);
  });

  test('of a loom of two thousand wires are answered whole', async () => {
    const own = await house.club();
    const job = bigJob({ wires: 2_000, suppliers: 1, seed: 3 });
    await storeJob(own, job);
    const [loom] = job.looms;
    const checks = await checksOf(`/v1/looms/${loom?.code}/revisions/1/checks`, await own.as('viewer'));
    const members = checks.circuits.flatMap(({ wires }) => wires.map(({ wire }) => wire));
    expect(members).toHaveLength(2_000);
    expect(new Set(members)).toEqual(new Set(loom?.wires?.map(({ id }) => id)));
  });
});

describe('checking', () => {
  /** A house whose threads run this text, with the one-wire loom in it. */
  async function houseOf(onWork: string, limits: { atOnce?: number; withinMs?: number } = {}) {
    const own = await openHouse({ checks: { pool: poolOf(onWork), ...limits } });
    onTestFinished(() => own.close());
    const client = await (await own.club()).as('editor');
    await loadSmall(client);
    return { own, check: () => client.get('/v1/looms/loom/revisions/1/checks') };
  }
  const CHECKED = `port.postMessage({ says: 'checked', checks: JSON.stringify({ loom: 'loom', revision: 1,
    options: work.job.request.looms[0].options, findings: [], branches: [], circuits: [] }) });`;

  test('is done in a thread, which is told that it is to check and is given what a quote is given', async () => {
    const { check } = await houseOf(
      `if (work.kind === 'check' && work.job.offers.length === 2 && work.job.parts.length === 2) { ${CHECKED} }
       else { ${ANSWERS} }`,
    );
    expect((await check()).status).toBe(200);
  });

  test('beyond what goes at once is refused with 429 and a time to come back, and goes on later', async () => {
    // The first piece of work waits for its flag, which the close below sets; meanwhile the one place is taken.
    const { own, check } = await houseOf(
      `Atomics.wait(new Int32Array(work.stop), 0, 0); port.postMessage({ says: 'cancelled' });`,
      { atOnce: 1 },
    );
    const both = [check(), check()];
    const refused = await Promise.race(both);
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '2']);
    await own.checker.close();
    const ended = (await Promise.all(both)).map(({ status }) => status).sort();
    expect(ended).toEqual([429, 503]);
    expect((await check()).status).toBe(503);
  });

  test('gives its place back however it ends', async () => {
    const { check } = await houseOf(
      `globalThis.times = (globalThis.times ?? 0) + 1;
       if (globalThis.times === 1) port.postMessage({ says: 'failed', name: 'Error', message: 'row 7' });
       else { ${CHECKED} }`,
      { atOnce: 1 },
    );
    const failed = await check();
    expect([failed.status, failed.text.includes('row 7')]).toEqual([500, false]);
    expect((await check()).status).toBe(200);
  });

  test('that takes too long is ended with 503', async () => {
    const { check } = await houseOf('for (;;);', { withinMs: 50 });
    const got = await check();
    expect([got.status, got.json()['detail']]).toEqual([
      503,
      expect.stringContaining('did not finish within'),
    ]);
  });

  test('whose thread dies is a 500, and the next one has a thread again', async () => {
    const { check } = await houseOf('process.exit(1);');
    expect((await check()).status).toBe(500);
    expect((await check()).status).toBe(500);
  });

  test('leaves the database to others: a part is added while a check is in hand', async () => {
    const pool = poolOf(
      `Atomics.wait(new Int32Array(work.stop), 0, 0); port.postMessage({ says: 'cancelled' });`,
    );
    let begun: () => void = () => undefined;
    const started = new Promise<void>((resolve) => (begun = resolve));
    const own = await openHouse({
      checks: {
        pool: {
          ...pool,
          start: (...work) => {
            begun();
            return pool.start(...work);
          },
        },
      },
    });
    onTestFinished(() => own.close());
    const client = await (await own.club()).as('editor');
    await loadJobFile(client, {
      parts: [ring, redWire],
      suppliers: [],
      offers: [],
      looms: [oneWireLoom()],
    } as unknown as JobInput);
    const inHand = client.get('/v1/looms/loom/revisions/1/checks');
    await started;
    expect((await client.post('/v1/parts', { ...ring, code: 'meanwhile' })).status).toBe(201);
    await own.checker.close();
    expect((await inHand).status).toBe(503);
  });
});
