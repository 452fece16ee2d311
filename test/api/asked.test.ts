import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { loadJob } from '../../worker/tasks/load.ts';
import type { Client, Got } from '../support/client.ts';
import { exampleJob, loadSmall, oneWireLoom, shop } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { lanes, rates, stock } from '../support/terms.ts';

let house: TestHouse;
let club: TestClub;
let admin: Client;

/** All that a request may hold beside its looms, its day and its settings. */
const wishes = {
  samples: 2,
  neededBy: '2026-12-20',
  atMostSuppliers: 2,
  shutOut: ['other'],
  insistOn: ['shop'],
  pinned: [{ part: 'ring-6', offer: 'ring-pack' }],
  parcelNuisance: { amount: '1.50', currency: 'EUR' },
  useStock: false,
};
const faults = (got: Got) =>
  got
    .json<{ findings: { at: string; code: string }[] }>()
    .findings.map(({ at, code }) => `${code} ${at}`)
    .sort();

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  admin = await club.as('admin');
  await loadSmall(admin);
  await admin.post('/v1/suppliers', { ...shop, code: 'other' });
  await admin.post('/v1/looms', { ...oneWireLoom('tail'), options: ['tow'] });
  for (const [name, entries] of Object.entries({ rates, lanes, stock }))
    for (const entry of entries) expect((await admin.post(`/v1/${name}`, entry)).status).toBe(201);
});
afterAll(() => house.close());

/** The job that a worker loads for a quote, as it is stored. */
async function jobOf(quote: Got): Promise<Job> {
  const read = readJob(await loadJob(house.database, club.ctx, quote.json<{ id: string }>().id));
  expect(read.error).toBeUndefined();
  return Job.parse(read.data);
}

describe('a request for a quote', () => {
  test('is kept with all that it asks, and so is its job, with the club’s country, rates, lanes and stock', async () => {
    const tag = { 'if-match': (await admin.get('/v1/club')).headers.get('etag') ?? '' };
    await admin.put('/v1/club', { currency: 'GBP', country: 'GB', settings: { slackPercent: 4 } }, tag);
    const looms = [
      { loom: 'loom', quantity: 1 },
      { loom: 'tail', quantity: 2, options: ['tow'], wave: 1 },
      { loom: 'loom', quantity: 3, wave: 2 },
      { loom: 'tail', quantity: 4, options: ['tow'], wave: 3 },
    ];
    const settings = { standInsAccepted: ['confirmed', 'proposed'] };
    const asked = await admin.post('/v1/quotes', { ...wishes, looms, settings, asOf: '2026-11-20' });
    expect(asked.status).toBe(202);
    const kept = { ...wishes, settings, looms: looms.map((line) => ({ ...line, revision: 1 })) };
    const { id } = asked.json<{ id: string }>();
    for (const quote of [asked, await admin.get(`/v1/quotes/${id}`)])
      expect(quote.json()).toMatchObject({ asOf: '2026-11-20', request: kept });
    expect(asked.json()['request']).toEqual(kept);
    const job = await jobOf(asked);
    expect(job.request).toEqual(kept);
    expect(job.club).toEqual({ currency: 'GBP', country: 'GB', settings: { slackPercent: 4 } });
    expect([job.rates, job.stock]).toEqual([rates, stock]);
    expect(job.lanes).toEqual(Job.parse({ ...exampleJob('three-wires'), lanes }).lanes);
    expect(job.lanes).toMatchObject(lanes);
    // Each loom is there once, in whichever orders it stands.
    expect(job.looms.map(({ code }) => code).sort()).toEqual(['loom', 'tail']);
  });

  test('is read back from the job that the quote was worked from, as far as anything hangs on it', async () => {
    const worker = await house.startWorker();
    onTestFinished(() => worker.stop());
    const looms = [
      { loom: 'loom', quantity: 1 },
      { loom: 'loom', quantity: 2, wave: 2 },
    ];
    const asked = await admin.post('/v1/quotes', { ...wishes, looms, useStock: true });
    const { task, job } = asked.json<{ task: string; job: string }>();
    // The stream ends with the task.
    expect((await admin.get(`${task}/events`)).text).toContain('"state":"done"');
    const worked = (await admin.get(job)).json();
    // A supplier that sells nothing that is needed need not be shut out.
    const { shutOut: _none, ...reached } = wishes;
    const pinned = looms.map((line) => ({ ...line, revision: 1 }));
    expect(worked['request']).toEqual({ ...reached, looms: pinned, useStock: true });
    // The nuisance is in euros; nothing comes from abroad, and the shop does not say where it is.
    expect(worked).toMatchObject({ rates: rates.slice(0, 1), lanes: [], stock });
  });

  test('for a loom of several orders is pinned to the one revision in all of them, and keeps it from removal', async () => {
    await admin.post('/v1/looms', oneWireLoom('twice'));
    const head = async () => ({ 'if-match': (await admin.get('/v1/looms/twice')).headers.get('etag') ?? '' });
    const { code: _code, ...content } = oneWireLoom('twice');
    await admin.post('/v1/looms/twice/revisions', content, await head());
    const lines = (revision: object) => [
      { loom: 'twice', quantity: 1, ...revision },
      { loom: 'twice', quantity: 5, wave: 2, ...revision },
    ];
    for (const [revision, pinned] of [
      [{}, 2],
      [{ revision: 1 }, 1],
    ] as const) {
      const quote = await admin.post('/v1/quotes', { looms: lines(revision) });
      expect(quote.json()['request']).toEqual({ looms: lines({ revision: pinned }) });
      expect((await jobOf(quote)).looms.map((loom) => loom.revision)).toEqual([pinned]);
    }
    const gone = await admin.delete('/v1/looms/twice', await head());
    expect([gone.status, gone.json()['detail']]).toEqual([409, expect.stringContaining('has quotes')]);
    const apart = [lines({})[0], { loom: 'twice', revision: 1, quantity: 5, wave: 2 }];
    expect(faults(await admin.post('/v1/quotes', { looms: apart }))).toEqual([
      'loom-in-two-revisions /looms/1',
    ]);
  });

  test('may ask for one loom with several sets of options; of a choice exactly one is chosen', async () => {
    const loom = oneWireLoom('sided');
    const [first] = loom.wires;
    if (!first) throw new Error('the loom has a wire');
    const wires = [first, { ...first, id: 'W-left', options: ['LHD'] }];
    const posted = await admin.post('/v1/looms', { ...loom, options: ['RHD|LHD'], wires });
    expect([posted.status, posted.json()['options']]).toEqual([201, ['RHD | LHD']]);
    const lines = [
      { loom: 'sided', quantity: 1, options: ['RHD'] },
      { loom: 'sided', quantity: 2, options: ['LHD'] },
    ];
    const quote = await admin.post('/v1/quotes', { looms: lines });
    expect(quote.status).toBe(202);
    const job = await jobOf(quote);
    expect([job.looms.map(({ code }) => code), job.request.looms.map(({ options }) => options)]).toEqual([
      ['sided'],
      [['RHD'], ['LHD']],
    ]);
    const refused = await admin.post('/v1/quotes', {
      looms: [
        { loom: 'sided', quantity: 1 },
        { loom: 'sided', quantity: 1, options: ['LHD', 'RHD'] },
      ],
    });
    expect([refused.status, faults(refused)]).toEqual([
      422,
      ['one-of-chosen-twice /looms/1/options/1', 'one-of-not-chosen /looms/0/options'],
    ]);
    expect(refused.text).toContain('exactly one of RHD, LHD');
  });

  test('that names what is not there is refused with all of it at once', async () => {
    const got = await admin.post('/v1/quotes', {
      looms: [
        { loom: 'loom', quantity: 1 },
        { loom: 'phantom', quantity: 1 },
        { loom: 'tail', quantity: 1, options: ['tow', 'RHD'] },
        { loom: 'loom', quantity: 1, wave: 2, options: [] },
        { loom: 'twice', revision: 9, quantity: 1 },
      ],
      shutOut: ['other', 'nobody'],
      insistOn: ['noone', 'shop'],
      pinned: [
        { part: 'ring-6', offer: 'red-metre' },
        { part: 'ghost', offer: 'wraith' },
        { part: 'wire-red', offer: 'spirit' },
      ],
    });
    expect(got.status).toBe(422);
    expect(faults(got)).toEqual([
      'unknown-loom /looms/1/loom',
      'unknown-offer /pinned/1/offer',
      'unknown-offer /pinned/2/offer',
      'unknown-option /looms/2/options/1',
      'unknown-part /pinned/1/part',
      'unknown-revision /looms/4/revision',
      'unknown-supplier /insistOn/0',
      'unknown-supplier /shutOut/1',
    ]);
    const { findings } = got.json<{
      findings: { at: string; where: string; found: string; todo: string }[];
    }>();
    expect(findings.find(({ at }) => at === '/shutOut/1')).toMatchObject({
      where: 'shutOut, number 2',
      found: '"nobody"',
      todo: expect.stringContaining('no supplier nobody') as string,
    });
  });

  test('that has other faults too is told of the names all the same', async () => {
    const got = await admin.post('/v1/quotes', {
      looms: [{ loom: 'phantom', quantity: 0 }, 7, { loom: 'loom', quantity: 1, wave: 9 }],
      shutOut: ['nobody', 3],
      pinned: [null, { part: 'ghost' }],
      insistOn: 7,
      cheap: true,
    });
    expect(got.status).toBe(422);
    expect(faults(got)).toEqual([
      'missing-field /pinned/1/offer',
      'too-big /looms/2/wave',
      'too-small /looms/0/quantity',
      'unknown-field /cheap',
      'unknown-loom /looms/0/loom',
      'unknown-part /pinned/1/part',
      'unknown-supplier /shutOut/0',
      'wrong-type /insistOn',
      'wrong-type /looms/1',
      'wrong-type /pinned/0',
      'wrong-type /shutOut/1',
    ]);
  });

  test('may name no supplier, part or offer of another club', async () => {
    const theirs = await (await house.club()).as('editor');
    await theirs.post('/v1/parts', { kind: 'boot', code: 'boot', description: 'Boot' });
    const loom = { code: 'bare', name: 'Bare', parts: [{ part: 'boot', quantity: 1 }] };
    expect((await theirs.post('/v1/looms', loom)).status).toBe(201);
    const { shutOut, pinned } = wishes;
    const looms = [{ loom: 'bare', quantity: 1 }];
    expect(faults(await theirs.post('/v1/quotes', { looms, shutOut, insistOn: ['shop'] }))).toEqual([
      'unknown-supplier /insistOn/0',
      'unknown-supplier /shutOut/0',
    ]);
    expect(faults(await theirs.post('/v1/quotes', { looms, pinned }))).toEqual([
      'unknown-offer /pinned/0/offer',
      'unknown-part /pinned/0/part',
    ]);
  });
});
