import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadJob } from '../../api/load/loadJob.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { callerInto } from '../support/callerInto.ts';
import type { Client } from '../support/client.ts';
import { exampleJob } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let viewer: Client;

const CODES = ['plug', 'socket', 'seal', 'pin', 'Zebra'];
const mates = { from: 'plug', relation: 'mates', to: 'socket' } as const;
const one = '/v1/fits/plug/mates/socket';
const part = (code: string) => ({ kind: 'boot', code, description: `Part ${code}` });

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  viewer = await club.as('viewer');
  for (const code of CODES) await editor.post('/v1/parts', part(code));
});
afterAll(() => house.close());

const tagOf = async (path: string) => ({ 'if-match': (await editor.get(path)).headers.get('etag') ?? '' });
const removed = async (path: string) => editor.delete(path, await tagOf(path));
const faults = (got: { json: <T>() => T }) =>
  got
    .json<{ findings: { at: string; code: string }[] }>()
    .findings.map(({ at, code }) => `${code} ${at}`)
    .sort();

describe('a fit', () => {
  test('is added as proposed where nothing else is said, read back, and found in the list', async () => {
    const added = await editor.post('/v1/fits', { ...mates, by: 'Ann' });
    expect([added.status, added.headers.get('location')]).toEqual([201, one]);
    const read = await viewer.get(one);
    expect(read.json()).toEqual({ ...mates, by: 'Ann', status: 'proposed' });
    expect(read.headers.get('etag')).toBe(added.headers.get('etag'));
    expect((await viewer.get('/v1/fits')).json()).toEqual({ items: [read.json()], next: null });
  });

  test('stands once for its two parts and relation; another relation of the same two is another fit', async () => {
    expect((await editor.post('/v1/fits', { ...mates, status: 'refuted' })).status).toBe(409);
    expect((await viewer.get(one)).json()['status']).toBe('proposed');
    expect((await editor.post('/v1/fits', { ...mates, relation: 'standsInFor' })).status).toBe(201);
    expect((await removed('/v1/fits/plug/standsInFor/socket')).status).toBe(204);
  });

  test('is replaced by whoever has read it last, and by nobody else', async () => {
    const tag = await tagOf(one);
    const confirmed = { ...mates, status: 'confirmed', by: 'Bob', note: 'Tried on the bench.' };
    expect((await editor.put(one, confirmed)).status).toBe(428);
    expect((await editor.put(one, confirmed, tag)).status).toBe(200);
    expect((await editor.put(one, { ...mates, status: 'refuted' }, tag)).status).toBe(412);
    expect((await viewer.get(one)).json()).toEqual(confirmed);
  });

  test('stays one of its two parts and relation: a body of others is refused at every pointer', async () => {
    const other = { from: 'pin', relation: 'takes', to: 'seal' };
    const got = await editor.put(one, other, await tagOf(one));
    expect(got.status).toBe(422);
    expect(faults(got)).toEqual(['from-differs /from', 'relation-differs /relation', 'to-differs /to']);
  });

  test.each([
    [
      'of parts that are not there',
      { from: 'ghost', relation: 'seals', to: 'wraith' },
      ['unknown-part /from', 'unknown-part /to'],
    ],
    [
      'of a part that is not there and a relation that is none',
      { from: 'ghost', relation: 'likes', to: 'plug' },
      ['not-one-of /relation', 'unknown-part /from'],
    ],
    ['of a part with itself', { from: 'plug', relation: 'mates', to: 'plug' }, ['fit-with-itself /to']],
    ['without its second part', { from: 'plug', relation: 'mates' }, ['missing-field /to']],
    ['of a status that is none', { ...mates, to: 'pin', status: 'sure' }, ['not-one-of /status']],
  ])('%s is refused with all its faults at once', async (_what, body, expected) => {
    const got = await editor.post('/v1/fits', body);
    expect(got.status).toBe(422);
    expect(faults(got)).toEqual(expected);
  });

  test('keeps both of its parts from being removed or becoming of another kind, until it is removed itself', async () => {
    for (const code of ['plug', 'socket']) {
      const gone = await removed(`/v1/parts/${code}`);
      expect([gone.status, gone.json()['detail']]).toEqual([409, expect.stringMatching(/fit/i)]);
      const other = { ...part(code), kind: 'cover' };
      const changed = await editor.put(`/v1/parts/${code}`, other, await tagOf(`/v1/parts/${code}`));
      expect([changed.status, changed.json()['detail']]).toEqual([409, expect.stringContaining('a fit')]);
    }
    expect((await editor.delete(one)).status).toBe(428);
    expect((await removed(one)).status).toBe(204);
    expect((await viewer.get(one)).status).toBe(404);
    expect((await removed('/v1/parts/socket')).status).toBe(204);
    expect((await editor.post('/v1/parts', part('socket'))).status).toBe(201);
  });

  test('of another club is a 404, to read, to change and to remove', async () => {
    expect((await editor.post('/v1/fits', mates)).status).toBe(201);
    const theirs = await (await house.club()).as('editor');
    const tag = await tagOf(one);
    expect((await theirs.get(one)).status).toBe(404);
    expect((await theirs.put(one, mates, tag)).status).toBe(404);
    expect((await theirs.delete(one, tag)).status).toBe(404);
    expect((await theirs.get('/v1/fits')).json()).toEqual({ items: [], next: null });
    // Their own parts of the same codes are other parts, and so is their fit.
    for (const code of ['plug', 'socket']) await theirs.post('/v1/parts', part(code));
    expect((await theirs.post('/v1/fits', mates)).status).toBe(201);
    expect((await removed(one)).status).toBe(204);
    expect((await theirs.get(one)).status).toBe(200);
  });

  test('is read by a viewer, proposed by a member and otherwise written by an editor alone', async () => {
    expect((await editor.post('/v1/fits', mates)).status).toBe(201);
    const tag = await tagOf(one);
    for (const role of ['viewer', 'member'] as const) {
      const reader = await club.as(role);
      expect((await reader.get(one)).status).toBe(200);
      const proposed = await reader.post('/v1/fits', { ...mates, to: 'pin' });
      expect(proposed.status).toBe(role === 'member' ? 201 : 403);
      if (role === 'member') expect((await removed('/v1/fits/plug/mates/pin')).status).toBe(204);
      expect((await reader.put(one, mates, tag)).status).toBe(403);
      expect((await reader.delete(one, tag)).status).toBe(403);
    }
    await removed(one);
  });

  test.each(['/v1/fits/plug/likes/socket', '/v1/fits/plug/mates/-', '/v1/fits/plug/mates'])(
    'has no such name as %s: a 404',
    async (path) => {
      expect((await viewer.get(path)).status).toBe(404);
    },
  );
});

describe('the list of fits', () => {
  // In the byte order of first part, relation, second part.
  const ALL = [
    ['Zebra', 'standsInFor', 'pin'],
    ['pin', 'mates', 'plug'],
    ['plug', 'mates', 'socket'],
    ['plug', 'takes', 'pin'],
    ['plug', 'takes', 'seal'],
    ['seal', 'seals', 'plug'],
  ] as const;
  let own: Client;

  beforeAll(async () => {
    own = await (await house.club()).as('editor');
    for (const code of CODES) await own.post('/v1/parts', part(code));
    for (const at of [3, 0, 5, 2, 4, 1]) {
      const [from, relation, to] = ALL[at] ?? ALL[0];
      expect((await own.post('/v1/fits', { from, relation, to })).status).toBe(201);
    }
  });

  async function pages(first: string) {
    const seen: string[][] = [];
    let path: string | null = first;
    let count = 0;
    while (path !== null) {
      const got = await own.get(path);
      const { items, next } = got.json<{
        items: { from: string; relation: string; to: string }[];
        next: string | null;
      }>();
      seen.push(...items.map(({ from, relation, to }) => [from, relation, to]));
      path = /<([^>]+)>; rel="next"/.exec(got.headers.get('link') ?? '')?.[1] ?? null;
      expect(path === null).toBe(next === null);
      count++;
    }
    return { seen, count };
  }

  test('comes page by page, each fit once', async () => {
    expect(await pages('/v1/fits?limit=4')).toEqual({ seen: ALL.map((fit) => [...fit]), count: 2 });
    expect((await pages('/v1/fits?limit=1')).seen).toEqual(ALL.map((fit) => [...fit]));
  });

  test('of one part is all that it is in, on either side, page by page too', async () => {
    const expected = ALL.filter(([from, , to]) => from === 'pin' || to === 'pin').map((fit) => [...fit]);
    expect(expected).toHaveLength(3);
    expect(await pages('/v1/fits?part=pin&limit=2')).toEqual({ seen: expected, count: 2 });
    expect((await pages('/v1/fits?part=nothing')).seen).toEqual([]);
  });

  test.each([
    `cursor=${Buffer.from('plug/likes/pin').toString('base64url')}`,
    `cursor=${Buffer.from('plug').toString('base64url')}`,
    `cursor=${Buffer.from(`${'a'.repeat(65)}/mates/pin`).toString('base64url')}`,
    'part=%20',
    'code=pin',
  ])('refuses the query %s with 422', async (query) => {
    expect((await own.get(`/v1/fits?${query}`)).status).toBe(422);
  });
});

describe('a loom with other faults too', () => {
  test('is told of the parts that it names and that are not there, all at once', async () => {
    const got = await editor.post('/v1/looms', {
      code: 'bad',
      name: '',
      points: [{ id: 'P1', kind: 'connector', part: 'ghost' }],
    });
    expect(got.status).toBe(422);
    expect(faults(got)).toEqual(['too-small /name', 'unknown-part /points/0/part']);
  });
});

describe('a job file loaded into a club', () => {
  test('brings its fits; a second time those are there already, and one that differs is named and stays', async () => {
    const own = await house.club();
    const job = Job.parse({
      ...exampleJob('three-wires'),
      parts: [...exampleJob('three-wires').parts, part('plug'), part('socket')],
      fits: [mates, { from: 'socket', relation: 'takes', to: 'ring-6', status: 'confirmed' }],
    });
    const api = await callerInto(house, own);
    const first = await loadJob(api, job);
    expect([first.refused, first.differing, first.same]).toEqual([[], [], 0]);
    const client = await own.as('viewer');
    expect((await client.get('/v1/fits')).json<{ items: unknown[] }>().items).toEqual(job.fits);
    const changed = { ...job, fits: job.fits.map((fit) => ({ ...fit, note: 'seen' })).slice(0, 1) };
    const again = await loadJob(api, changed);
    expect(again).toMatchObject({ added: [], refused: [], differing: [{ entry: 'fit plug/mates/socket' }] });
    expect((await client.get(one)).json()).toEqual(job.fits[0]);
  });
});
