import { createKey, type Role } from '../../../db/keys.ts';
import { oneWireLoom, redOffer, ring, shop } from '../fixtures.ts';
import { frozenOrder } from '../frozenOrder.ts';
import type { TestMember } from '../house.ts';
import type { World } from './world.ts';

/**
 * Samples for the matrix of routes and roles. A new route needs a line here: in THINGS, where its path has a name that no
 * line there begins with, and in BODIES, where it takes a body.
 */

/** Whose a thing is, seen from the caller. */
export const WHOSE = ['own', 'ours', 'private', 'theirs', 'absent'] as const;
export type Whose = (typeof WHOSE)[number];
export type Names = Record<string, string>;

/** The names of a thing in a path; undefined where nothing can be whose that is. */
type Thing = (
  world: World,
  whose: Whose,
  caller: TestMember,
) => Promise<Names | undefined> | Names | undefined;

const NOWHERE = '01890000-0000-7000-8000-000000000000';

/** A thing of the catalogue: the club’s, of no member. */
const code =
  (ours: string): Thing =>
  (_world, whose) =>
    ({
      own: undefined,
      private: undefined,
      ours: { code: ours },
      theirs: { code: `their-${ours}` },
      absent: { code: 'no-such' },
    })[whose];

const idOf =
  (make: (world: World, whose: Whose, caller: TestMember) => Promise<string | undefined>): Thing =>
  async (world, whose, caller) => {
    const id = whose === 'absent' ? NOWHERE : await make(world, whose, caller);
    return id === undefined ? undefined : { id };
  };

const quote: Thing = idOf(async (world, whose, caller) => world.quotes[whose === 'own' ? caller.id : whose]);
const task: Thing = idOf(async (world, whose, caller) => world.tasks[whose === 'own' ? caller.id : whose]);

const keyFor = async (world: World, whose: Whose, memberId?: string) =>
  (whose === 'theirs' ? world.theirs : world.ours).run(
    async (ctx) => (await createKey({ ctx, input: { role: 'viewer', label: 'to go', memberId } })).key.id,
  );

/** By how a path begins; the longest that fits is taken. */
export const THINGS: Record<string, Thing> = {
  '/v1/parts/{code}': code('ring-6'),
  '/v1/suppliers/{code}': code('shop'),
  '/v1/offers/{code}': code('red-metre'),
  '/v1/rates/{code}': code('eur'),
  '/v1/lanes/{code}': code('home'),
  '/v1/stock/{code}': (world, whose, caller) => {
    if (whose !== 'own') return code('shelf')(world, whose, caller);
    return caller.ctx.role === 'viewer' ? undefined : { code: `shelf-of-${caller.id}` };
  },
  '/v1/fits/{from}/{relation}/{to}': (_world, whose) => {
    const fit = (from: string, to: string) => ({ from, relation: 'takes', to });
    if (whose === 'own' || whose === 'private') return undefined;
    return {
      ours: fit('ring-6', 'wire-red'),
      theirs: fit('their-ring-6', 'their-wire'),
      absent: fit('no-such', 'none'),
    }[whose];
  },
  '/v1/fits/{from}/{relation}/{to}/reports/{id}': async (world, whose, caller) => {
    if (whose === 'private') return undefined;
    const fit = { from: 'ring-6', relation: 'takes', to: 'wire-red' };
    if (whose === 'absent') return { ...fit, id: NOWHERE };
    if (whose === 'theirs') return { from: 'their-ring-6', relation: 'takes', to: 'their-wire', id: NOWHERE };
    const { client } = whose === 'own' ? caller : await world.ours.joined('member');
    const got = await client.post('/v1/fits/ring-6/takes/wire-red/reports', { says: 'fits' });
    return got.status === 201 ? { ...fit, id: got.json<{ id: string }>().id } : undefined;
  },
  '/v1/looms/{code}': (_world, whose, caller) =>
    ({
      own: { code: `of-${caller.id}` },
      ours: { code: 'loom' },
      private: { code: 'hidden' },
      theirs: { code: 'their-loom' },
      absent: { code: 'no-such' },
    })[whose],
  '/v1/quotes/{id}': quote,
  '/v1/orders/{id}': idOf(async (world, whose, caller) => {
    const of = world.quotes[whose === 'own' ? caller.id : whose];
    return of === undefined ? undefined : frozenOrder(whose === 'theirs' ? world.theirs : world.ours, of);
  }),
  '/v1/tasks/{id}': task,
  '/v1/members/{id}': idOf(async (world, whose, caller) => {
    if (whose === 'private') return undefined;
    if (whose === 'own') return caller.id;
    return (await (whose === 'ours' ? world.ours : world.theirs).joined('viewer')).id;
  }),
  '/v1/keys/{id}': idOf(async (world, whose) =>
    whose === 'own' || whose === 'private' ? undefined : keyFor(world, whose),
  ),
  '/v1/me/keys/{id}': idOf(async (world, whose, caller) => {
    if (whose === 'ours') return undefined;
    return keyFor(
      world,
      whose,
      { own: caller.id, private: world.hider.id, theirs: undefined, absent: undefined }[whose],
    );
  }),
  '/v1/invitations/{id}': idOf(async (world, whose) => {
    if (whose === 'own' || whose === 'private') return undefined;
    const admin = await (whose === 'ours' ? world.ours : world.theirs).as('admin');
    return (await admin.post('/v1/invitations', { role: 'viewer' })).json<{ id: string }>().id;
  }),
};

/** What else stands in paths. */
export const REST: Names = {
  revision: '1',
  table: 'wires',
  sheet: 'labels',
  supplier: 'shop',
  offer: 'ring-pack',
};

/** What a call that cannot do without asks for in its query. */
export const QUERIES: Record<string, string> = {
  'GET /v1/parts/{code}/merge': '?into=wire-red',
};

let made = 0;
const fresh = () => `new-${++made}`;
const CSV = (text: string) => ({ type: 'text/csv', text });
const part = (names: Names) => ({ ...ring, code: names['code'] ?? fresh() });
const rate = (names: Names) => ({
  code: names['code'] ?? fresh(),
  currency: 'EUR',
  on: '2026-11-03',
  rate: '0.9',
});
const lane = (names: Names) => ({ code: names['code'] ?? fresh(), from: 'FR', to: 'GB', taxPercent: 20 });
const item = (names: Names) => ({ code: names['code'] ?? fresh(), form: 'pieces', part: 'ring-6', count: 1 });
const loom = (names: Names) => oneWireLoom(names['code'] ?? fresh());
const seenBy = () => ({ seenBy: 'club' });
const person = (_names: Names, role: Role) => ({ name: 'Somebody', role });

/** The bodies of calls that take one: JSON, or a text with its type. */
export const BODIES: Record<string, (names: Names, caller: Role) => unknown> = {
  'POST /v1/parts': part,
  'PUT /v1/parts/{code}': part,
  'POST /v1/parts/table': () => CSV('code\n'),
  'POST /v1/suppliers': (names) => ({ ...shop, code: names['code'] ?? fresh() }),
  'PUT /v1/suppliers/{code}': (names) => ({ ...shop, code: names['code'] }),
  'POST /v1/suppliers/table': () => CSV('code\n'),
  'POST /v1/offers': () => ({ ...redOffer, code: fresh() }),
  'PUT /v1/offers/{code}': (names) => ({ ...redOffer, code: names['code'] }),
  'POST /v1/offers/table': () => CSV('code\n'),
  'POST /v1/offers/seen': () => ({ offers: ['red-metre'] }),
  'POST /v1/suppliers/{code}/price-list': () => CSV('code\n'),
  'POST /v1/rates': rate,
  'PUT /v1/rates/{code}': rate,
  'POST /v1/rates/table': () => CSV('code\n'),
  'POST /v1/lanes': lane,
  'PUT /v1/lanes/{code}': lane,
  'POST /v1/lanes/table': () => CSV('code\n'),
  'POST /v1/stock': item,
  'PUT /v1/stock/{code}': item,
  'POST /v1/stock-movements': () => CSV('stock,kind\nshelf,found\n'),
  'POST /v1/stock/{code}/movements': () => ({ kind: 'found' }),
  'POST /v1/stock/table': () => CSV('code\n'),
  'POST /v1/fits': () => ({ from: 'wire-red', relation: 'takes', to: 'ring-6' }),
  'PUT /v1/fits/{from}/{relation}/{to}': (names) => names,
  'POST /v1/fits/{from}/{relation}/{to}/reports': () => ({ says: 'fits' }),
  'POST /v1/parts/{code}/merge': () => ({ into: 'wire-red' }),
  'POST /v1/fits/table': () => CSV('from\n'),
  'POST /v1/looms': loom,
  'PUT /v1/looms/{code}/seen-by': seenBy,
  'POST /v1/looms/{code}/revisions': loom,
  'POST /v1/looms/{code}/tables/{table}': () => CSV('id\n'),
  'POST /v1/quotes': () => ({ looms: [{ loom: 'loom', quantity: 1 }] }),
  'PUT /v1/quotes/{id}/seen-by': seenBy,
  'POST /v1/quotes/{id}/accept': () => ({}),
  'POST /v1/quotes/{id}/rest': () => ({}),
  'POST /v1/quotes/{id}/cuts': () => ({}),
  'PUT /v1/orders/{id}': () => ({}),
  'POST /v1/orders/{id}/steps': () => ({ to: 'sent' }),
  'POST /v1/orders/{id}/receipts': () => ({ lines: [{ line: 1, arrived: 1 }] }),
  'POST /v1/orders/{id}/returns': () => ({ line: 1, what: 'faulty', count: 1 }),
  'POST /v1/orders/{id}/refunds': () => ({ refund: { amount: '0.00', currency: 'GBP' } }),
  'POST /v1/orders/{id}/charges': () => ({}),
  'POST /v1/quotes/{id}/winning-prices': () => ({ offer: 'ring-pack' }),
  'PUT /v1/synonyms': () => ({ groups: [] }),
  'PUT /v1/club': () => ({ currency: 'GBP', settings: {} }),
  'POST /v1/club/archive': () => ({ type: 'application/gzip', text: 'no archive' }),
  'POST /v1/members': person,
  'PUT /v1/members/{id}': person,
  'POST /v1/invitations': () => ({ role: 'viewer' }),
  'POST /v1/keys': () => ({ role: 'viewer', label: 'x' }),
  'POST /v1/me/keys': () => ({ role: 'viewer', label: 'x' }),
};
