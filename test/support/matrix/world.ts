import { eq } from 'drizzle-orm';
import { quotes } from '../../../db/schema/index.ts';
import { ROLES, type Role } from '../../../db/keys.ts';
import { storeResult } from '../../../db/quotes.ts';
import type { Client } from '../client.ts';
import { loadSmall, oneWireLoom, redOffer, redWire, ring, shop } from '../fixtures.ts';
import type { TestClub, TestHouse, TestMember } from '../house.ts';

/** Two clubs with a thing of every kind; a caller of every role in ours, and a member who hides what they have. */
export interface World {
  ours: TestClub;
  theirs: TestClub;
  callers: Record<Role, TestMember>;
  hider: TestMember;
  /** By the id of the member whose they are, or by ours, private and theirs. */
  quotes: Record<string, string>;
  tasks: Record<string, string>;
}

export async function buildWorld(house: TestHouse): Promise<World> {
  const [ours, theirs] = [await house.club(), await house.club()];
  const editor = await ours.as('editor');
  await loadSmall(editor);
  await loadRest(editor, '');
  const stranger = await theirs.as('editor');
  await loadTheirs(stranger);
  const hider = await ours.joined('editor', 'Hider');
  await hider.client.post('/v1/looms?seenBy=owner', oneWireLoom('hidden'));
  const entries: [Role, TestMember][] = [];
  for (const role of ROLES) entries.push([role, await ours.joined(role)]);
  const callers = Object.fromEntries(entries) as Record<Role, TestMember>;
  const world: World = { ours, theirs, callers, hider, quotes: {}, tasks: {} };
  await ask(world, 'ours', ours, editor, 'loom');
  await ask(world, 'private', ours, hider.client, 'hidden');
  await ask(world, 'theirs', theirs, stranger, 'their-loom');
  for (const role of ROLES) {
    const { id, client } = callers[role];
    if (role === 'viewer') continue;
    await client.post('/v1/looms', oneWireLoom(`of-${id}`));
    const item = { code: `shelf-of-${id}`, form: 'pieces', part: 'ring-6', count: 2 };
    await client.post('/v1/stock', { ...item, owner: `${role} of a test` });
    await ask(world, id, ours, client, `of-${id}`);
  }
  return world;
}

/** A quote whose task has ended, so that its events end too, with a price that was asked for. */
async function ask(world: World, name: string, club: TestClub, client: Client, loom: string): Promise<void> {
  const got = await client.post('/v1/quotes', { looms: [{ loom, quantity: 1 }] });
  const { id, task } = got.json<{ id: string; task: string }>();
  const job = JSON.stringify({ offers: [{ code: 'ring-pack' }] });
  await club.run((ctx) => storeResult({ ctx, input: { id, job, jobHash: 'hash', result: '{}' } }));
  await client.post(`/v1/quotes/${id}/winning-prices`, { offer: 'ring-pack' });
  await club.run(({ tx }) =>
    tx.update(quotes).set({ job: null, jobHash: null, result: null }).where(eq(quotes.id, id)),
  );
  await client.post(`${task}/cancel`, undefined);
  world.quotes[name] = id;
  world.tasks[name] = task.replace('/v1/tasks/', '');
}

async function loadRest(editor: Client, prefix: string): Promise<void> {
  const part = `${prefix}ring-6`;
  await editor.post('/v1/fits', {
    from: part,
    relation: 'takes',
    to: prefix === '' ? 'wire-red' : 'their-wire',
  });
  await editor.post('/v1/rates', { code: `${prefix}eur`, currency: 'EUR', on: '2026-11-02', rate: '0.85' });
  await editor.post('/v1/lanes', { code: `${prefix}home`, from: 'GB', to: 'GB', taxPercent: 20 });
  await editor.post('/v1/stock', { code: `${prefix}shelf`, form: 'pieces', part, count: 4 });
}

async function loadTheirs(editor: Client): Promise<void> {
  await editor.post('/v1/parts', { ...ring, code: 'their-ring-6' });
  await editor.post('/v1/parts', { ...redWire, code: 'their-wire' });
  await editor.post('/v1/suppliers', { ...shop, code: 'their-shop' });
  await editor.post('/v1/offers', {
    ...redOffer,
    code: 'their-red-metre',
    supplier: 'their-shop',
    part: 'their-wire',
  });
  const parts = [{ part: 'their-ring-6', quantity: 1 }];
  await editor.post('/v1/looms', { code: 'their-loom', name: 'Theirs', parts });
  await loadRest(editor, 'their-');
}
