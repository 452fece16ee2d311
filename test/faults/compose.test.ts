import { readFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { Job } from '../../worker/engine/model/job.ts';
import { callerOf } from '../../api/client.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { freshDatabase, type FreshDatabase } from '../support/database.ts';
import { exampleJob } from '../support/fixtures.ts';
import { processes } from '../support/processes.ts';
import { freshRedis } from '../support/redis.ts';

// There is no Docker engine where the tests run: the commands and the environment of docker-compose.yml are run as they
// stand there, with only the hosts, the port and the password put in.
const root = fileURLToPath(new URL('../../', import.meta.url));
const text = readFileSync(`${root}docker-compose.yml`, 'utf8');

interface Service {
  image?: string;
  build?: string;
  command?: string[];
  environment?: Record<string, string>;
  ports?: string[];
}
const { services } = parse(text, { merge: true }) as { services: Record<string, Service> };

const started = processes();
let database: FreshDatabase;
let environmentOf: (service: string) => Record<string, string>;

beforeAll(async () => {
  execFileSync('npm', ['run', '-s', 'build'], { cwd: root });
  database = await freshDatabase({ owner: 'plain' });
  const redis = freshRedis();
  environmentOf = (name) => {
    const swap: Record<string, string> = {
      DATABASE_URL: database.url,
      REDIS_URL: redis.url,
      HOST: '127.0.0.1',
      PORT: '0',
    };
    const stated = services[name]?.environment ?? {};
    const swapped = Object.entries(stated).map(([key, value]) => [key, swap[key] ?? value]);
    // The run's Redis is shared: the queue gets a name of its own.
    return { ...(Object.fromEntries(swapped) as Record<string, string>), LOOMWRIGHT_QUEUE: redis.prefix };
  };
}, 120_000);
afterAll(async () => {
  await started.endAll();
  await database.drop();
});

function run(name: string) {
  const [program, ...args] = services[name]?.command ?? [];
  expect(program).toBe('node');
  return started.node(args, environmentOf(name));
}

describe('docker-compose.yml', () => {
  test('has the four services', () => {
    expect(Object.keys(services).sort()).toEqual(['api', 'postgres', 'redis', 'worker']);
  });

  test('takes the database’s password from outside and refuses to go without', () => {
    const passwords = [
      services['postgres']?.environment?.['POSTGRES_PASSWORD'],
      services['api']?.environment?.['DATABASE_URL'],
    ];
    for (const value of passwords) expect(value).toMatch(/\$\{LOOMWRIGHT_DB_PASSWORD:\?[^}]+\}/);
  });

  test('opens the API to its own machine alone, and nothing else', () => {
    const ports = Object.entries(services).flatMap(([name, { ports = [] }]) =>
      ports.map((port) => `${name} ${port}`),
    );
    expect(ports).toEqual(['api 127.0.0.1:8080:8080']);
  });

  test('starts an API and a worker that price the three-wire example together', async () => {
    const api = run('api');
    const worker = run('worker');
    const [, url = ''] = await api.until(/answers at (http:\S+) \(service\)/);
    await worker.until(/"msg":"working"/);
    const key = started.node(
      ['dist/api/key.js', '--club', 'Our club', '--role', 'admin', '--new'],
      environmentOf('api'),
    );
    const [secret] = await key.until(/lw_[\w-]{43}/);

    const caller = callerOf(url, secret);
    const job = exampleJob('three-wires');
    const { refused } = await loadJob(caller, Job.parse(job));
    expect(refused).toEqual([]);
    const terms = await caller.get('/v1/club');
    await caller.send('PUT', '/v1/club', job.club, { 'if-match': terms.headers.get('etag') ?? '' });
    const asked = await caller.send('POST', '/v1/quotes', { ...job.request, asOf: job.asOf });
    const quote = (await asked.json()) as { task: string; result: string };
    // The stream ends with the task.
    await (await caller.get(`${quote.task}/events`)).text();
    const result = (await (await caller.get(quote.result)).json()) as Result;
    const hand = JSON.parse(readFileSync(`${root}examples/three-wires/expected.json`, 'utf8')) as {
      total: string;
    };
    expect(result.costs.total.amount).toBe(hand.total);

    for (const process of [api, worker]) process.kill('SIGTERM');
    expect(await Promise.all([api.ended, worker.ended])).toEqual([0, 0]);
  });
});
