import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { eq } from 'drizzle-orm';
import { invitations } from '../../db/schema/index.ts';
import type { Client, Got } from '../support/client.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
});
afterAll(() => house.close());

const holder = (secret: string) => house.anonymous.with({ authorization: `Bearer ${secret}` });
const tag = (got: Got) => ({ 'if-match': got.headers.get('etag') ?? '' });
const detail = (got: Got) => got.json<{ detail: string }>().detail;

async function invited(admin: Client, body: object = { role: 'member' }) {
  return (await admin.post('/v1/invitations', body)).json<{ id: string; code: string; endsAt: string }>();
}
async function joinedBy(code: string, name = 'Ada') {
  const got = await house.anonymous.post('/v1/join', { code, name, email: 'ada@example.org' });
  return { got, body: got.json<{ member: { id: string }; key: { id: string; secret: string } }>() };
}

describe('an invitation', () => {
  test('lets one person in, once, with its role and a key', async () => {
    const admin = await club.as('admin');
    const { code } = await invited(admin, { role: 'editor', name: 'Ada', days: 3 });
    const { got, body } = await joinedBy(code);
    expect(got.status).toBe(201);
    expect(got.json()).toMatchObject({ club: club.name, member: { name: 'Ada', role: 'editor' } });
    const me = await holder(body.key.secret).get('/v1/me');
    expect(me.json()).toMatchObject({
      club: club.name,
      role: 'editor',
      key: body.key.id,
      member: { id: body.member.id, email: 'ada@example.org' },
    });
    expect((await joinedBy(code)).got.status).toBe(404);
    expect((await admin.get('/v1/invitations')).json<{ items: object[] }>().items).toContainEqual(
      expect.objectContaining({ state: 'used', member: body.member.id }),
    );
    expect((await admin.get('/v1/invitations')).text).not.toContain(code);
  });

  test('is answered in the same way where it is unknown, used, withdrawn or too old', async () => {
    const admin = await club.as('admin');
    const used = await invited(admin);
    await joinedBy(used.code);
    const withdrawn = await invited(admin);
    expect((await admin.delete(`/v1/invitations/${withdrawn.id}`)).status).toBe(204);
    expect((await admin.delete(`/v1/invitations/${withdrawn.id}`)).status).toBe(404);
    expect((await admin.delete(`/v1/invitations/${used.id}`)).status).toBe(409);
    const old = await invited(admin);
    await club.run(({ tx }) =>
      tx
        .update(invitations)
        .set({ endsAt: new Date(Date.now() - 1) })
        .where(eq(invitations.id, old.id)),
    );
    const answers = await Promise.all(
      [used.code, withdrawn.code, old.code, `join_${'x'.repeat(43)}`, 'x'].map((code) => joinedBy(code)),
    );
    const bare = answers.map(({ got }) => {
      const { requestId: _id, instance, ...rest } = got.json<{ requestId: string; instance: string }>();
      expect(instance.startsWith('urn:uuid')).toBe(true);
      return rest;
    });
    expect(new Set(bare.map((each) => JSON.stringify(each))).size).toBe(1);
    expect(bare[0]).toMatchObject({ status: 404 });
  });

  test('that two people use at the same moment lets in one of them', async () => {
    const { code } = await invited(await club.as('admin'));
    const both = await Promise.all(['Ben', 'Cleo'].map((name) => joinedBy(code, name)));
    expect(both.map(({ got }) => got.status).sort()).toEqual([201, 404]);
  });

  test('into a second club gives another key, and neither key opens the other club', async () => {
    const second = await house.club();
    const one = await joinedBy((await invited(await club.as('admin'))).code);
    const two = await joinedBy((await invited(await second.as('admin'))).code);
    const clubOf = async (secret: string) => (await holder(secret).get('/v1/me')).json()['club'];
    expect(await clubOf(one.body.key.secret)).toBe(club.name);
    expect(await clubOf(two.body.key.secret)).toBe(second.name);
  });

  test('is withdrawn when the admin who made it leaves or becomes less', async () => {
    const admin = await club.as('admin');
    const leaver = await club.joined('admin');
    const { code } = await invited(leaver.client, { role: 'admin' });
    await admin.post(`/v1/members/${leaver.id}/leave`, undefined);
    expect((await joinedBy(code)).got.status).toBe(404);
    const lowered = await club.joined('admin', 'Dora');
    const other = await invited(lowered.client, { role: 'admin' });
    const path = `/v1/members/${lowered.id}`;
    await admin.put(path, { name: 'Dora', role: 'viewer' }, tag(await admin.get(path)));
    expect((await joinedBy(other.code)).got.status).toBe(404);
  });
});

test('codes that lead nowhere are counted against their address, as keys are', async () => {
  const strict = await openHouse({ gate: { failedKeysPerMinute: 3 } });
  try {
    const from = strict.anonymous.with({ 'x-forwarded-for': '192.0.2.7' });
    const attempt = () => from.post('/v1/join', { code: 'wrong', name: 'X' });
    for (let n = 0; n < 3; n++) expect((await attempt()).status).toBe(404);
    expect((await attempt()).status).toBe(429);
  } finally {
    await strict.close();
  }
});

describe('a member', () => {
  test('reads names and roles of all, and e-mail and note of nobody but themselves', async () => {
    const admin = await club.as('admin');
    const made = await admin.post('/v1/members', {
      name: 'Eve',
      role: 'editor',
      email: 'eve@example.org',
      note: 'pays in May',
    });
    const { id } = made.json<{ id: string }>();
    const { client } = await club.joined('viewer');
    const seen = (await client.get(`/v1/members/${id}`)).json();
    expect(seen).toMatchObject({ name: 'Eve', role: 'editor' });
    expect(seen).not.toHaveProperty('email');
    expect(seen).not.toHaveProperty('note');
    expect((await client.get('/v1/members?limit=500')).text).not.toContain('eve@example.org');
    expect((await admin.get(`/v1/members/${id}`)).json()).toMatchObject({ note: 'pays in May' });
  });

  test('changes their own name, and neither their own role nor anything of others', async () => {
    const { id, client } = await club.joined('member', 'Fay');
    const path = `/v1/members/${id}`;
    const renamed = await client.put(path, { name: 'Faye', role: 'member' }, tag(await client.get(path)));
    expect(renamed.json()).toMatchObject({ name: 'Faye' });
    const raised = await client.put(path, { name: 'Faye', role: 'admin' }, tag(renamed));
    expect(raised.status).toBe(403);
    expect(detail(raised)).toBe(
      'You cannot change your own role: it is member. Send this role, or ask an admin of your club to change it.',
    );
    const other = `/v1/members/${(await club.joined('viewer')).id}`;
    const change = await client.put(other, { name: 'X', role: 'viewer' }, tag(await client.get(other)));
    expect(change.status).toBe(403);
  });

  test('acts with no more than the key has, and the key with no more than the member', async () => {
    const admin = await club.as('admin');
    const { id, client } = await club.joined('admin', 'Gus');
    const weak = (await client.post('/v1/me/keys', { role: 'viewer', label: 'noticeboard' })).json<{
      id: string;
      secret: string;
    }>();
    const weakly = holder(weak.secret);
    const raised = await weakly.post('/v1/me/keys', { role: 'admin', label: 'more' });
    expect(raised.status).toBe(403);
    const keys = (await client.get('/v1/me/keys')).json<{ items: { id: string; role: string }[] }>().items;
    const strong = keys.find(({ role }) => role === 'admin')?.id ?? '';
    expect((await weakly.post(`/v1/me/keys/${strong}/renew`, undefined)).status).toBe(403);
    expect((await weakly.delete(`/v1/me/keys/${strong}`)).status).toBe(403);
    const path = `/v1/members/${id}`;
    expect(
      (await weakly.put(path, { name: 'Gus', role: 'viewer' }, tag(await weakly.get(path)))).status,
    ).toBe(403);
    await admin.put(path, { name: 'Gus', role: 'viewer' }, tag(await admin.get(path)));
    await expect.poll(async () => (await client.get('/v1/keys')).status, { timeout: 5_000 }).toBe(403);
    expect((await admin.post('/v1/keys', { role: 'editor', label: 'x', member: id })).status).toBe(422);
    expect((await admin.post('/v1/keys', { role: 'viewer', label: 'x', member: id })).status).toBe(201);
  });

  test('renews and revokes their own keys at once, and no key of another', async () => {
    const ada = await club.joined('member');
    const ben = await club.joined('member');
    const renewed = await ada.client.post(`/v1/me/keys/${ada.key}/renew`, undefined);
    expect(renewed.status).toBe(201);
    const { id, secret } = renewed.json<{ id: string; secret: string }>();
    expect((await ada.client.get('/v1/me')).status).toBe(401);
    expect((await holder(secret).get('/v1/me')).status).toBe(200);
    expect((await ben.client.delete(`/v1/me/keys/${id}`)).status).toBe(404);
    expect((await ben.client.post(`/v1/me/keys/${id}/renew`, undefined)).status).toBe(404);
    expect((await holder(secret).delete(`/v1/me/keys/${id}`)).status).toBe(204);
    expect((await holder(secret).get('/v1/me')).status).toBe(401);
  });

  test('who leaves loses all keys at once and keeps their name', async () => {
    const { id, client } = await club.joined('member', 'Hal');
    expect((await client.post(`/v1/members/${id}/leave`, undefined)).json()).toMatchObject({ name: 'Hal' });
    expect((await client.get('/v1/me')).status).toBe(401);
    const admin = await club.as('admin');
    expect((await admin.get(`/v1/members/${id}`)).json()).toHaveProperty('leftAt');
    const again = await admin.post(`/v1/members/${id}/leave`, undefined);
    expect([again.status, detail(again)]).toEqual([
      409,
      'Hal has left the club. To let them in again, invite them again.',
    ]);
    expect((await admin.post('/v1/keys', { role: 'viewer', label: 'x', member: id })).status).toBe(409);
  });
});

describe('the last admin', () => {
  test('cannot leave, become less or lose the last key; with another admin they can', async () => {
    const own = await house.club();
    const ada = await own.joined('admin', 'Ada');
    const path = `/v1/members/${ada.id}`;
    const lower = async () =>
      ada.client.put(path, { name: 'Ada', role: 'editor' }, tag(await ada.client.get(path)));
    const tries = [
      await ada.client.post(`${path}/leave`, undefined),
      await lower(),
      await ada.client.delete(`/v1/keys/${ada.key}`),
      await ada.client.delete(`/v1/me/keys/${ada.key}`),
    ];
    expect(tries.map(({ status }) => status)).toEqual([409, 409, 409, 409]);
    for (const got of tries) expect(detail(got)).toMatch(/^After this nobody could act as an admin/);
    expect((await ada.client.get('/v1/keys')).status).toBe(200);
    await own.as('admin');
    expect((await ada.client.post(`${path}/leave`, undefined)).status).toBe(200);
  });

  test('is one of two who leave at the same moment: one of them stays', async () => {
    const own = await house.club();
    const both = [await own.joined('admin'), await own.joined('admin')];
    const left = await Promise.all(
      both.map(({ id, client }) => client.post(`/v1/members/${id}/leave`, undefined)),
    );
    expect(left.map(({ status }) => status).sort()).toEqual([200, 409]);
  });
});
