import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { callerOf } from '../../api/client.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { figure } from '../support/figures.ts';
import { exampleJob } from '../support/fixtures.ts';
import { gateBefore, type Gate } from '../support/gate.ts';
import { LONG } from '../support/long.ts';
import { postgresOfOwn, type OwnPostgres } from '../support/postgresOfOwn.ts';
import { processes, type Started } from '../support/processes.ts';
import { freshRedis } from '../support/redis.ts';
import { repeatingClients, type RepeatingClients } from '../support/repeatingClient.ts';

// An API and a worker on a PostgreSQL of the test's own, under the load of clients that repeat what is refused.
const RESTARTS = LONG ? 60 : 30;
const CUTS = LONG ? 400 : 100;

const started = processes();
let postgres: OwnPostgres;
let gate: Gate;
let api: Started;
let worker: Started;
let url: string;
let secret: string;
let deaths = 0;

beforeAll(async () => {
  postgres = await postgresOfOwn();
  gate = await gateBefore(postgres.url);
  await gate.set('open');
  const redis = freshRedis();
  const environment = {
    DATABASE_URL: gate.url,
    REDIS_URL: redis.url,
    LOOMWRIGHT_QUEUE: redis.prefix,
    LOOMWRIGHT_LEASE_SECONDS: '1',
    PORT: '0',
  };
  api = started.node(['api/main.ts'], environment);
  worker = started.node(['worker/main.ts'], environment);
  for (const process of [api, worker]) void process.ended.then(() => deaths++);
  url = (await api.until(/answers at (http:\S+) /))[1] ?? '';
  await worker.until(/"msg":"working"/);
  const key = started.node(['api/key.ts', '--club', 'Ours', '--role', 'admin', '--new'], environment);
  [secret = ''] = await key.until(/lw_[\w-]{43}/);
  expect((await loadJob(callerOf(url, secret), Job.parse(exampleJob('three-wires')))).refused).toEqual([]);
});
afterAll(async () => {
  await started.endAll();
  await gate.close();
  await postgres.remove();
});

/** Waits until the clients were told of so many more requests that they are taken in. */
function untilTaken(clients: RepeatingClients, more: number): Promise<void> {
  const goal = clients.acknowledged.length + more;
  return vi.waitFor(
    () => {
      if (clients.acknowledged.length < goal) throw new Error(JSON.stringify([...clients.refused]));
    },
    { timeout: 30_000, interval: 10 },
  );
}

/** Waits until nothing waits or runs, and expects each request to be there once, and done once. */
async function expectDoneOnce(clients: RepeatingClients): Promise<void> {
  await vi.waitFor(
    async () => {
      const open = await postgres.admin(
        (sql) => sql`select state, attempts from tasks where state in ('queued', 'running')`,
      );
      expect(open.slice(0, 5)).toEqual([]);
    },
    { timeout: 60_000, interval: 200 },
  );
  const ids = clients.acknowledged.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  const rows = await postgres.admin(
    (sql) => sql<{ id: string; state: string; done: number; result: boolean }[]>`
      select q.id, t.state, q.result is not null as result,
        (select count(*)::int from audit a where a.subject = t.id::text and a.action = 'task.done') as done
      from quotes q join tasks t on t.club_id = q.club_id and t.id = q.task_id`,
  );
  const byId = new Map(rows.map((row) => [row.id, row]));
  const wrong = ids
    .map((id) => byId.get(id))
    .filter((row) => row?.state !== 'done' || row.done !== 1 || !row.result);
  expect(wrong).toEqual([]);
}

describe('PostgreSQL that goes and comes back', () => {
  let before = 0;

  test(`${RESTARTS} times ends no process, and each request that was taken in is done once`, async () => {
    const clients = repeatingClients({ url, secret, loom: 'horn-lead', clients: 4 });
    for (let round = 0; round < RESTARTS; round++) {
      await untilTaken(clients, 4);
      await postgres.stop(round % 2 === 0 ? 'immediate' : 'fast');
      await postgres.start();
    }
    await untilTaken(clients, 4);
    await clients.stop();
    await expectDoneOnce(clients);
    const [stored] = await postgres.admin(
      (sql) => sql<{ n: number }[]>`select count(*)::int as n from quotes`,
    );
    // Each key stands for one quote: none was stored twice, and none that was not told of.
    before = stored?.n ?? 0;
    expect(before).toBe(clients.acknowledged.length);
    expect(deaths).toBe(0);
    for (const kind of clients.refused.keys())
      expect(kind).toMatch(/^(503 (database-away|outcome-unknown)|409 conflict)$/);
    figure('restarts of PostgreSQL under load', RESTARTS, 'restarts');
    figure('processes that ended at these restarts', deaths, 'processes');
    figure(
      'requests taken in during these restarts, each done once',
      clients.acknowledged.length,
      'requests',
    );
    figure('longest answer during these restarts', Math.round(clients.longestMs()), 'ms');
    for (const [kind, count] of clients.refused)
      figure(`answers ${kind} during these restarts`, count, 'answers');
  }, 180_000);

  test(`and whose connections are cut ${CUTS} times: the same`, async () => {
    const clients = repeatingClients({ url, secret, loom: 'horn-lead', clients: 4 });
    let cut = 0;
    let round = 0;
    while (cut < CUTS) {
      await untilTaken(clients, 2);
      // By the server, in order, and by the network, in the middle of whatever is being said.
      if (round++ % 2 === 0) {
        cut += gate.cut();
        continue;
      }
      const [ended] = await postgres.admin(
        (sql) => sql<{ n: number }[]>`select count(pg_terminate_backend(pid))::int as n from pg_stat_activity
          where datname = current_database() and pid <> pg_backend_pid() and backend_type = 'client backend'`,
      );
      cut += ended?.n ?? 0;
    }
    await clients.stop();
    await expectDoneOnce(clients);
    const [stored] = await postgres.admin(
      (sql) => sql<{ n: number }[]>`select count(*)::int as n from quotes`,
    );
    expect((stored?.n ?? 0) - before).toBe(clients.acknowledged.length);
    expect(deaths).toBe(0);
    figure('connections cut under load, by PostgreSQL and by the network', cut, 'connections');
    figure('processes that ended at these', deaths, 'processes');
    figure('requests taken in meanwhile, each done once', clients.acknowledged.length, 'requests');
  }, 180_000);
});
