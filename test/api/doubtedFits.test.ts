import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Client } from '../support/client.ts';
import { gbp, loadSmall, ring, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let member: Client;

const FIT = { from: 'ring-6', relation: 'takes', to: 'wire-red' };
const PATH = '/v1/fits/ring-6/takes/wire-red';

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());

async function opened(): Promise<void> {
  club = await house.club();
  editor = await club.as('editor');
  member = await club.as('member');
  await loadSmall(editor);
}

const doubts = (findings: readonly Finding[]) => findings.filter(({ code }) => code === 'fit-doubted');
const checks = async () =>
  doubts((await member.get('/v1/looms/loom/revisions/1/checks')).json<{ findings: Finding[] }>().findings);
async function quoted(settings: object = {}): Promise<Finding[]> {
  const asked = await editor.post('/v1/quotes', {
    looms: [{ loom: 'loom', quantity: 1 }],
    settings: { besideSeconds: 0, ...settings },
  });
  const { task, result } = asked.json<{ task: string; result: string }>();
  // The stream ends with the task.
  await editor.get(`${task}/events`);
  return doubts((await editor.get(result)).json<{ findings: Finding[] }>().findings);
}
const report = (says: string, path = PATH) => member.post(`${path}/reports`, { says });
async function stated(status: string, path = PATH): Promise<void> {
  const read = await editor.get(path);
  const tag = { 'if-match': read.headers.get('etag') ?? '' };
  expect((await editor.put(path, { ...read.json<object>(), status }, tag)).status).toBe(200);
}

test('a report that a confirmed fit does not fit is one warning in the checks and in the quote, until the fit is confirmed again', async () => {
  await opened();
  expect((await editor.post('/v1/fits', { ...FIT, status: 'confirmed' })).status).toBe(201);
  expect((await report('fits')).status).toBe(201);
  expect(await checks()).toEqual([]);
  for (let times = 0; times < 2; times++) expect((await report('doesNotFit')).status).toBe(201);
  const found = await checks();
  expect(found).toMatchObject([
    {
      severity: 'warning',
      found: 'ring-6 with wire-red: somebody reported that they do not fit',
      todo: 'Look at what was reported of this fit, then refute it or confirm it.',
    },
  ]);
  expect(await quoted()).toMatchObject([{ severity: 'warning', found: found[0]?.found }]);
  await stated('confirmed');
  expect([await checks(), await quoted()]).toEqual([[], []]);
});

test('a refuted fit stops the loom, and is in doubt no more', async () => {
  await opened();
  await editor.post('/v1/fits', FIT);
  await report('doesNotFit');
  expect(await checks()).toHaveLength(1);
  await stated('refuted');
  const { findings } = (await member.get('/v1/looms/loom/revisions/1/checks')).json<{
    findings: Finding[];
  }>();
  expect(findings.filter(({ severity }) => severity === 'stop')).toMatchObject([
    { code: 'fit-refuted' },
    { code: 'fit-refuted' },
  ]);
  expect(doubts(findings)).toEqual([]);
});

test('what was reported stands after a part of the fit was merged into another', async () => {
  await opened();
  await editor.post('/v1/fits', { ...FIT, status: 'confirmed' });
  await report('doesNotFit');
  await editor.post('/v1/parts', { ...ring, code: 'ring-m6' });
  const tag = { 'if-match': (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '' };
  expect((await editor.post('/v1/parts/ring-6/merge', { into: 'ring-m6' }, tag)).status).toBe(200);
  expect(await checks()).toMatchObject([
    { found: 'ring-m6 with wire-red: somebody reported that they do not fit' },
  ]);
});

test('a stand-in that is bought though somebody reported that it does not fit is a warning in the quote', async () => {
  await opened();
  await editor.post('/v1/parts', { ...ring, code: 'ring-other' });
  await editor.post('/v1/offers', {
    ...ringOffer,
    code: 'other-pack',
    part: 'ring-other',
    packPrice: gbp('0.10'),
  });
  const fit = { from: 'ring-other', relation: 'standsInFor', to: 'ring-6', status: 'confirmed' };
  expect((await editor.post('/v1/fits', fit)).status).toBe(201);
  expect(await quoted()).toEqual([]);
  await report('doesNotFit', '/v1/fits/ring-other/standsInFor/ring-6');
  expect(await quoted()).toMatchObject([
    {
      where: 'offer other-pack of shop',
      found: 'ring-other is bought instead of ring-6: somebody reported that it does not fit',
    },
  ]);
});
