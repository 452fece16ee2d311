import { createHash } from 'node:crypto';
import { drizzle } from 'drizzle-orm/postgres-js';
import { migrate } from 'drizzle-orm/postgres-js/migrator';
import postgres from 'postgres';
import { afterAll, expect, onTestFinished, test } from 'vitest';
import { callerOf } from '../../api/client.ts';
import { freshDatabase } from '../support/database.ts';
import { firstMigration } from '../support/firstMigration.ts';
import { oneWireLoom, redOffer, redWire, ring, ringOffer, shop } from '../support/fixtures.ts';
import { processes } from '../support/processes.ts';
import { freshRedis } from '../support/redis.ts';

// A service that a club has used since its first version, started by this one.
const started = processes();
afterAll(() => started.endAll());

const club = '01890000-0000-7000-8000-000000000001';
const id = (n: number) => `01890000-0000-7000-8000-0000000001${String(n).padStart(2, '0')}`;
const day = '2026-01-02T03:04:05Z';
const SECRET = `lw_${'k'.repeat(43)}`;
const REVOKED = `lw_${'r'.repeat(43)}`;
const hash = (secret: string) => createHash('sha256').update(secret).digest('hex');
const STORED_JOB = '{"kept":"as it was written"}';

/** What the first version had stored of a club: a catalogue, a loom, a quote that is done and one that waits. */
async function storeAsTheFirst(sql: postgres.Sql): Promise<void> {
  const { code, ...loom } = oneWireLoom();
  const kept = { club_id: club, version: 1, created_at: day, updated_at: day };
  const entry = ({ code, ...body }: { code: string }) => ({
    ...kept,
    code,
    body: sql.json({ code, ...body }),
  });
  const waiting = { phase: 'loading', message: 'Waiting for a worker.' };
  const task = { club_id: club, kind: 'quote', woken_at: day, progress: sql.json(waiting), created_at: day };
  const request = sql.json({ looms: [{ loom: code, quantity: 1, revision: 1 }] });
  const quote = { club_id: club, as_of: '2026-01-02', request, created_at: day, created_by: 'key:old' };
  await sql`set loomwright.system = 'on'`;
  await sql`select set_config('loomwright.club', ${club}, false)`;
  await sql`insert into clubs ${sql({ id: club, name: 'Old club', currency: 'GBP', settings: sql.json({ slackPercent: 4 }), created_at: day })}`;
  await sql`insert into keys ${sql([
    {
      club_id: club,
      id: id(1),
      hash: hash(SECRET),
      role: 'admin',
      label: 'old',
      created_at: day,
      revoked_at: null,
    },
    {
      club_id: club,
      id: id(2),
      hash: hash(REVOKED),
      role: 'admin',
      label: 'gone',
      created_at: day,
      revoked_at: day,
    },
  ])}`;
  await sql`insert into parts ${sql([entry(ring), entry(redWire)])}`;
  await sql`insert into suppliers ${sql([entry(shop)])}`;
  await sql`insert into offers ${sql([ringOffer, redOffer].map((offer) => ({ ...entry(offer), supplier_code: 'shop' })))}`;
  await sql`insert into offer_parts ${sql([ringOffer, redOffer].map((offer) => ({ club_id: club, offer_code: offer.code, part_code: offer.part })))}`;
  await sql`insert into looms ${sql({ club_id: club, code, latest_revision: 1, created_at: day, updated_at: day })}`;
  await sql`insert into loom_revisions ${sql({ club_id: club, loom_code: code, revision: 1, body: sql.json(loom as never), created_at: day, created_by: 'key:old' })}`;
  await sql`insert into loom_parts ${sql([ring, redWire].map((part) => ({ club_id: club, loom_code: code, revision: 1, part_code: part.code })))}`;
  await sql`insert into tasks ${sql([
    { ...task, id: id(3), subject: id(4), state: 'done' },
    { ...task, id: id(5), subject: id(6), state: 'queued' },
  ])}`;
  await sql`insert into quotes ${sql([
    { ...quote, id: id(4), task_id: id(3), job: STORED_JOB, job_hash: 'x', result: '{}' },
    { ...quote, id: id(6), task_id: id(5), job: null, job_hash: null, result: null },
  ])}`;
  await sql`insert into quote_looms ${sql([id(4), id(6)].map((quote_id) => ({ club_id: club, quote_id, loom_code: code, revision: 1 })))}`;
}

test('A service of the first version, with its data, is brought up to date by the first process that starts: old keys open it, nothing has changed, and the quote that waited is worked', async () => {
  const { url, drop } = await freshDatabase();
  onTestFinished(drop);
  // Two clients: drizzle takes JSON out of the hands of its own.
  const connect = () => postgres(url, { max: 1, onnotice: () => undefined });
  const migrator = connect();
  await migrate(drizzle(migrator), firstMigration());
  await migrator.end();
  const old = connect();
  await storeAsTheFirst(old);
  await old.end();

  const redis = freshRedis();
  const env = { DATABASE_URL: url, REDIS_URL: redis.url, LOOMWRIGHT_QUEUE: redis.prefix, PORT: '0' };
  const api = started.node(['api/main.ts'], env);
  const worker = started.node(['worker/main.ts'], env);
  const [, at = ''] = await api.until(/answers at (http:\S+) /, 60_000);
  const caller = callerOf(at, SECRET);
  const read = async (path: string): Promise<unknown> => (await caller.get(path)).json();

  await expect(callerOf(at, REVOKED).get('/v1/parts')).rejects.toThrow(/has no key, or the key is not valid/);
  expect(await read('/v1/club')).toMatchObject({ name: 'Old club', settings: { slackPercent: 4 } });
  expect(await read('/v1/parts/ring-6')).toEqual(ring);
  expect(await read('/v1/parts/wire-red')).toEqual(redWire);
  expect(await read('/v1/offers/red-metre')).toMatchObject(redOffer);
  expect(await read('/v1/looms/loom/revisions/1')).toMatchObject(oneWireLoom());
  const job = await caller.get(`/v1/quotes/${id(4)}/job`);
  expect(await job.text()).toBe(STORED_JOB);
  await expect
    .poll(async () => ((await read(`/v1/tasks/${id(5)}`)) as { state: string }).state, { timeout: 40_000 })
    .toBe('done');
  expect(await read(`/v1/quotes/${id(6)}/result`)).toMatchObject({
    orderLists: [{ supplier: 'shop' }],
  });
  for (const process of [api, worker]) {
    process.kill('SIGTERM');
    expect(await process.ended).toBe(0);
  }
}, 120_000);
