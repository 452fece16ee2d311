import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client } from '../support/client.ts';
import { gbp, loadSmall, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let editor: Client;
let member: Client;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  const club = await house.club();
  editor = await club.as('editor');
  member = await club.as('member');
  await loadSmall(editor);
});
afterAll(() => house.close());

/** The result of a quote of one loom, and the job that it was worked from. */
async function quoted(more: object = {}) {
  const asked = await editor.post('/v1/quotes', {
    looms: [{ loom: 'loom', quantity: 1 }],
    settings: { besideSeconds: 0 },
    ...more,
  });
  expect(asked.status).toBe(202);
  const { task, result, job } = asked.json<{ task: string; result: string; job: string }>();
  // The stream ends with the task.
  await editor.get(`${task}/events`);
  const got = (await editor.get(result)).json<Result & Record<string, unknown>>();
  return {
    offers: got.purchases.map(({ offer }) => offer).sort(),
    unconfirmed: got.unconfirmed,
    job: (await editor.get(job)).json(),
  };
}

test('a quote names the offer that a member proposed, until an editor confirms it', async () => {
  const before = await quoted();
  expect(before.offers).toEqual(['red-metre', 'ring-pack']);
  expect('unconfirmed' in before.job).toBe(false);
  const cheap = { ...ringOffer, code: 'ring-cheap', packPrice: gbp('1.00') };
  expect((await member.post('/v1/offers', cheap)).status).toBe(201);
  // A proposed part that the loom has nothing to do with is no part of its job.
  await member.post('/v1/parts', { kind: 'boot', code: 'hood', description: 'Hood' });

  const named = await quoted();
  expect(named.offers).toEqual(['red-metre', 'ring-cheap']);
  expect(named.unconfirmed).toMatchObject([{ offer: 'ring-cheap', part: 'ring-6', why: 'offer' }]);
  expect(named.job['unconfirmed']).toEqual({ offers: ['ring-cheap'] });

  const sure = await quoted({ confirmedOnly: true });
  expect(sure.offers).toEqual(['red-metre', 'ring-pack']);
  expect(sure.unconfirmed).toBeUndefined();

  expect((await editor.post('/v1/offers/ring-cheap/confirm', undefined)).status).toBe(200);
  const confirmed = await quoted({ confirmedOnly: true });
  expect(confirmed.offers).toEqual(['red-metre', 'ring-cheap']);
  expect(confirmed.unconfirmed).toBeUndefined();
  expect('unconfirmed' in confirmed.job).toBe(false);
});

test('a stand-in is bought on a proposal where the setting accepts that, and never once it is refuted', async () => {
  const settings = { besideSeconds: 0, standInsAccepted: ['confirmed', 'proposed'] };
  const other = { kind: 'terminal', code: 'ring-other', description: 'Another ring', terminalType: 'ring' };
  expect((await editor.post('/v1/parts', other)).status).toBe(201);
  const cheapest = { ...ringOffer, code: 'other-pack', part: 'ring-other', packPrice: gbp('0.10') };
  expect((await editor.post('/v1/offers', cheapest)).status).toBe(201);
  const fit = { from: 'ring-other', relation: 'standsInFor', to: 'ring-6' };
  expect((await member.post('/v1/fits', fit)).status).toBe(201);

  const named = await quoted({ settings });
  expect(named.offers).toEqual(['other-pack', 'red-metre']);
  expect(named.unconfirmed).toMatchObject([{ offer: 'other-pack', part: 'ring-other', why: 'standIn' }]);
  expect((await quoted({ settings, confirmedOnly: true })).offers).not.toContain('other-pack');

  const path = '/v1/fits/ring-other/standsInFor/ring-6';
  const tag = { 'if-match': (await editor.get(path)).headers.get('etag') ?? '' };
  expect((await editor.put(path, { ...fit, status: 'refuted' }, tag)).status).toBe(200);
  const refuted = await quoted({ settings });
  expect(refuted.offers).not.toContain('other-pack');
  expect(refuted.unconfirmed).toBeUndefined();
});
