import { expect } from 'vitest';
import type { Client, Got } from '../client.ts';
import { oneWireLoom, shop } from '../fixtures.ts';
import { randomBelow } from '../randomBelow.ts';

/** What of a club the year needs: its admin, and callers by the secrets of their keys. */
export interface World {
  admin: Client;
  anonymous: Client;
  /** Moves the clock of the server to this day of the year, from 0. */
  moveTo: (day: number) => void;
}

export interface Person {
  id: string;
  name: string;
  role: 'viewer' | 'member' | 'editor';
  client: Client;
}

/** What was done how often, and what became of it. */
export type Counts = Map<string, number>;

const DAYS = 365;
const PEOPLE = [
  ['editor', 'Ada'],
  ['editor', 'Bram'],
  ['member', 'Carla'],
  ['member', 'Dov'],
  ['member', 'Edda'],
  ['member', 'Femi'],
  ['member', 'Gwen'],
  ['member', 'Hal'],
  ['member', 'Ines'],
  ['member', 'Jory'],
  ['viewer', 'Kit'],
] as const;
/** Days on which somebody leaves, and somebody new comes. */
const DEPARTURES = [90, 180, 270];
const COLOURS = ['red', 'green', 'blue', 'brown', 'white', 'black'] as const;

/**
 * A year of a club of twelve: parts, prices, fits, reports, looms, quotes, merges and departures, by a seeded script through
 * the API alone. Every answer must be one that is expected of what was sent. Gives who is there at the end, and how often
 * each thing was done.
 */
export async function liveAYear(world: World, seed: number): Promise<{ people: Person[]; counts: Counts }> {
  const below = randomBelow(seed);
  const counts: Counts = new Map();
  const people: Person[] = [];
  const parts: string[] = ['ring-6'];
  const offers: string[] = [];
  const looms: { code: string; owner: Person }[] = [];
  const shelf: string[] = [];
  let made = 0;

  const one = <T>(list: readonly T[]): T | undefined => list[below(list.length)];
  const who = (...roles: Person['role'][]) => one(people.filter(({ role }) => roles.includes(role)));
  const name = (word: string) => `${word}-${++made}`;
  const drop = (list: string[], item: string) => void list.splice(list.indexOf(item), 1);
  const count = (what: string) => counts.set(what, (counts.get(what) ?? 0) + 1);

  /** Of all that may be answered, what was: anything else fails the test with the answer. */
  function came(what: string, got: Got, ...statuses: number[]): boolean {
    expect(statuses, `${what}: ${got.status} ${got.text}`).toContain(got.status);
    count(got.status < 300 ? what : `${what}, refused`);
    return got.status < 300;
  }

  async function join(role: Person['role'], called: string): Promise<void> {
    const invited = await world.admin.post('/v1/invitations', { role, name: called, days: 7 });
    came('invite', invited, 201);
    const { code } = invited.json<{ code: string }>();
    const joined = await world.anonymous.post('/v1/join', { code, name: called });
    came('join', joined, 201);
    came(
      'join twice',
      await world.anonymous.post('/v1/join', { code, name: called }),
      401,
      403,
      404,
      409,
      422,
    );
    const { member, key } = joined.json<{ member: { id: string }; key: { secret: string } }>();
    const client = world.anonymous.with({ authorization: `Bearer ${key.secret}` });
    people.push({ id: member.id, name: called, role, client });
  }

  const etagOf = async (client: Client, path: string): Promise<Record<string, string> | undefined> => {
    const got = await client.get(path);
    const etag = got.headers.get('etag');
    return got.status === 200 && etag !== null ? { 'if-match': etag } : undefined;
  };

  const price = () => ({ amount: `${1 + below(20)}.${10 + below(90)}`, currency: 'GBP' });
  const packOf = (code: string, part: string, seenOn: string) => ({
    form: 'pack',
    code,
    supplier: one(['shop', 'barn', 'mill']),
    part,
    packCount: 1 + below(10),
    packPrice: price(),
    seenOn,
  });

  const actions: Record<string, (day: string) => Promise<void>> = {
    async part() {
      const code = name('ring');
      const by = who('editor', 'member', 'member');
      const got = await by?.client.post('/v1/parts', {
        kind: 'terminal',
        code,
        description: `Ring ${code} for a ${4 + below(6)} mm stud`,
        terminalType: 'ring',
        numbers: [{ whose: 'Wrenfield', number: `20 41 ${10 + below(90)}` }],
      });
      if (got && came('part', got, 201)) parts.push(code);
    },
    async wire() {
      const code = name('wire');
      const got = await who('editor')?.client.post('/v1/parts', {
        kind: 'wire',
        code,
        description: `Wire ${code}`,
        cableType: 'thin-wall',
        size: { system: 'mm2', areaMm2: 1 + below(3) },
        colour: { base: one(COLOURS) },
      });
      if (got) came('wire', got, 201);
    },
    async renamePart() {
      const code = one(parts);
      const by = who('editor');
      const match = code && by && (await etagOf(by.client, `/v1/parts/${code}`));
      if (!code || !by || !match) return;
      const body = (await by.client.get(`/v1/parts/${code}`)).json();
      const changed = { ...body, description: `Ring, looked at again ${++made}` };
      came('part changed', await by.client.put(`/v1/parts/${code}`, changed, match), 200);
    },
    async offer(day) {
      const part = one(parts);
      if (part === undefined) return;
      const code = name('offer');
      const got = await who('editor', 'member')?.client.post('/v1/offers', packOf(code, part, day));
      if (got && came('offer', got, 201)) offers.push(code);
    },
    async newPrice(day) {
      const code = one(offers);
      const by = who('editor');
      const match = code && by && (await etagOf(by.client, `/v1/offers/${code}`));
      if (!code || !by || !match) return;
      const body = (await by.client.get(`/v1/offers/${code}`)).json();
      const changed = { ...body, packPrice: price(), seenOn: day };
      came('new price', await by.client.put(`/v1/offers/${code}`, changed, match), 200);
    },
    async seenAgain() {
      const seen = offers.filter(() => below(3) === 0).slice(0, 5);
      const got = seen.length > 0 && (await who('editor')?.client.post('/v1/offers/seen', { offers: seen }));
      if (got) came('seen again', got, 200);
    },
    async fit() {
      const [from, to] = [one(parts), one(parts)];
      if (from === to) return;
      const body = { from, relation: 'standsInFor', to };
      const got = await who('editor', 'member')?.client.post('/v1/fits', body);
      if (got) came('fit', got, 201, 409);
    },
    async report() {
      const by = who('member', 'editor');
      const list = await by?.client.get('/v1/fits?limit=20');
      const fit = list && one(list.json<{ items: { from: string; relation: string; to: string }[] }>().items);
      if (!by || !fit) return;
      const path = `/v1/fits/${fit.from}/${fit.relation}/${fit.to}/reports`;
      const says = below(5) === 0 ? 'doesNotFit' : 'fits';
      const body = { says, vehicle: 'Marram Ostler 1960', note: 'Tried on the bench.' };
      came('report', await by.client.post(path, body), 201);
    },
    async confirm() {
      const kind = one(['parts', 'offers'] as const);
      const code = one(kind === 'parts' ? parts : offers);
      if (code === undefined) return;
      const got = await who('editor')?.client.post(`/v1/${kind}/${code}/confirm`, {});
      if (got) came('confirm', got, 200, 409);
    },
    async confirmByMember() {
      const code = one(parts);
      const got = code && (await who('member')?.client.post(`/v1/parts/${code}/confirm`, {}));
      if (got) came('confirm by a member', got, 403);
    },
    async loom() {
      const owner = who('member', 'editor');
      if (!owner) return;
      const code = name('loom');
      const query = below(2) === 0 ? '?seenBy=owner' : '';
      const got = await owner.client.post(`/v1/looms${query}`, oneWireLoom(code));
      if (came('loom', got, 201)) looms.push({ code, owner });
    },
    async revise() {
      const loom = one(looms);
      const match = loom && (await etagOf(loom.owner.client, `/v1/looms/${loom.code}`));
      if (!loom || !match) return;
      const { code: _code, ...body } = oneWireLoom(loom.code);
      const next = { ...body, name: `One wire, again ${++made}` };
      came('revise', await loom.owner.client.post(`/v1/looms/${loom.code}/revisions`, next, match), 201);
    },
    async show() {
      const loom = one(looms);
      if (!loom) return;
      const seenBy = one(['club', 'owner']);
      came('seen by', await loom.owner.client.put(`/v1/looms/${loom.code}/seen-by`, { seenBy }), 200, 409);
    },
    async quote() {
      const loom = one(looms);
      if (!loom) return;
      const body = { looms: [{ loom: loom.code, quantity: 1 }] };
      came('quote', await loom.owner.client.post('/v1/quotes', body), 202);
    },
    async removeLoom() {
      const loom = one(looms);
      const match = loom && (await etagOf(loom.owner.client, `/v1/looms/${loom.code}`));
      if (!loom || !match) return;
      const got = await loom.owner.client.delete(`/v1/looms/${loom.code}`, match);
      if (came('loom removed', got, 204, 409)) looms.splice(looms.indexOf(loom), 1);
    },
    async removePart() {
      const code = one(parts);
      const by = who('editor');
      const match = code && by && (await etagOf(by.client, `/v1/parts/${code}`));
      if (!code || !by || !match || code === 'ring-6') return;
      if (came('part removed', await by.client.delete(`/v1/parts/${code}`, match), 204, 409))
        drop(parts, code);
    },
    async removeOffer() {
      const code = one(offers);
      const by = who('editor');
      const match = code && by && (await etagOf(by.client, `/v1/offers/${code}`));
      if (!code || !by || !match) return;
      if (came('offer removed', await by.client.delete(`/v1/offers/${code}`, match), 204)) drop(offers, code);
    },
    async merge() {
      const [from, into] = [one(parts), one(parts)];
      const by = who('editor');
      if (!from || !into || !by || from === 'ring-6') return;
      const match = await etagOf(by.client, `/v1/parts/${from}`);
      if (!match) return;
      const got = await by.client.post(`/v1/parts/${from}/merge`, { into }, match);
      if (came('merge', got, 200, 409, 422)) drop(parts, from);
    },
    async shelf() {
      const code = name('box');
      const body = { code, form: 'pieces', part: one(parts), count: 1 + below(30) };
      const got = await who('editor')?.client.post('/v1/stock', body);
      if (got && came('shelf', got, 201)) shelf.push(code);
    },
    async search() {
      const q = one(['ring', 'ring stud', 'rign', '20 41', '1 mm2 red', 'looked again']);
      const got = await who('viewer', 'member')?.client.get(`/v1/parts?q=${encodeURIComponent(q ?? '')}`);
      if (got) came('search', got, 200);
    },
    async byViewer() {
      const got = await who('viewer')?.client.post('/v1/looms', oneWireLoom(name('loom')));
      if (got) came('loom by a viewer', got, 403);
    },
    async priceList() {
      const rows = offers
        .filter(() => below(2) === 0)
        .map((code) => `${code},mill,ring-6,pack,10,${1 + below(9)}.50 GBP`);
      const text = ['code,supplier,part,form,packCount,packPrice', ...rows].join('\n');
      const got = await who('editor')?.client.send('POST', '/v1/suppliers/mill/price-list?preview=true', {
        headers: { 'content-type': 'text/csv' },
        body: text,
      });
      if (got) came('price list', got, 200, 422);
    },
  };
  const names = Object.keys(actions);

  world.moveTo(0);
  for (const code of ['shop', 'barn', 'mill'])
    came('supplier', await world.admin.post('/v1/suppliers', { ...shop, code }), 201);
  const ring = { kind: 'terminal', code: 'ring-6', description: 'Ring', terminalType: 'ring' };
  came('part', await world.admin.post('/v1/parts', ring), 201);
  for (const [role, called] of PEOPLE) await join(role, called);

  for (let day = 1; day < DAYS; day++) {
    world.moveTo(day);
    const today = new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10);
    for (let nth = below(3); nth >= 0; nth--) await actions[one(names) ?? 'part']?.(today);
    if (!DEPARTURES.includes(day)) continue;
    const leaver = who('member');
    if (!leaver) continue;
    came('leave', await world.admin.post(`/v1/members/${leaver.id}/leave`, {}), 200, 204);
    came('after leaving', await leaver.client.get('/v1/parts'), 401);
    people.splice(people.indexOf(leaver), 1);
    for (const loom of [...looms]) if (loom.owner === leaver) looms.splice(looms.indexOf(loom), 1);
    await join('member', `${leaver.name} the second`);
  }
  return { people, counts };
}
