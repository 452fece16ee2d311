import { sql } from 'drizzle-orm';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runPrice } from '../../worker/price/run.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client } from '../support/client.ts';
import { exampleJob, loadJobFile, loadSmall, oneWireLoom } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { askQuote, taskRow, timesRecorded, untilTask } from '../support/taskRows.ts';

let house: TestHouse;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());

/** What the price command prints for a job file as JSON. */
async function priced(file: string): Promise<string> {
  let printed = '';
  const code = await runPrice([file, '--json'], {
    readFile: (path) => readFile(path, 'utf8'),
    writeFile: () => Promise.reject(new Error('the command was asked for no files')),
    print: (text) => void (printed += text),
    warn: () => undefined,
    progress: () => undefined,
    now: () => performance.now(),
  });
  expect(code).toBe(0);
  return printed;
}

describe.each(['three-wires', 'trailer'] as const)('the example %s', (name) => {
  let admin: Client;
  let result: string;
  let quote: string;

  beforeAll(async () => {
    const club = await house.club();
    admin = await club.as('admin');
    const job = exampleJob(name);
    await loadJobFile(admin, job);
    const terms = await admin.get('/v1/club');
    await admin.put('/v1/club', job.club, { 'if-match': terms.headers.get('etag') ?? '' });
    const asked = await admin.post('/v1/quotes', { ...job.request, asOf: job.asOf });
    const { id, task } = asked.json<{ id: string; task: string }>();
    await untilTask(house.database, task.split('/').at(-1) ?? '', { state: 'done' });
    quote = `/v1/quotes/${id}`;
    result = (await admin.get(`${quote}/result`)).text;
  });

  test('comes out of the worker as the very bytes that the price command prints', async () => {
    const file = fileURLToPath(new URL(`../../examples/${name}/job.json`, import.meta.url));
    expect(result).toBe(await priced(file));
  });

  test('is stored with the job that it was worked from, whose hash the result carries', async () => {
    const { jobHash } = (await admin.get(quote)).json<{ jobHash: string }>();
    expect(jobHash).toMatch(/^\S{20,}$/);
    expect((JSON.parse(result) as { jobHash: string }).jobHash).toBe(jobHash);
  });
});

test('a quote is worked once, and its task says how long that took', async () => {
  const member = await (await house.club()).as('editor');
  await loadSmall(member);
  const { task } = await askQuote(member, 'loom');
  const done = await untilTask(house.database, task, { state: 'done' });
  expect(done).toMatchObject({ attempts: 1, progress: { percent: 100 }, leaseToken: null, problem: null });
  expect(done.workSeconds).toBeGreaterThan(0);
  expect(done.finishedAt?.getTime()).toBeGreaterThanOrEqual(done.startedAt?.getTime() ?? Infinity);
  expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
});

test('where stopsBlock is on, what the checks stop fails the task with these findings; off, it is quoted', async () => {
  const member = await (await house.club()).as('editor');
  await loadSmall(member);
  const { wires, ...loom } = oneWireLoom('unmeasured');
  const bare = wires.map(({ length: _none, ...wire }) => wire);
  expect((await member.post('/v1/looms', { ...loom, wires: bare })).status).toBe(201);
  const stopped = await askQuote(member, 'unmeasured', { stopsBlock: true });
  await untilTask(house.database, stopped.task, { state: 'failed', attempts: 1 });
  const { problem } = (await member.get(`/v1/tasks/${stopped.task}`)).json<{
    problem: { code: string; findings: { code: string; severity: string; subject?: string }[] };
  }>();
  expect(problem.code).toBe('checks-stopped');
  expect(problem.findings.map(({ code }) => code)).toContain('wire-without-length');
  expect(problem.findings.every(({ severity }) => severity === 'stop')).toBe(true);
  const quoted = await askQuote(member, 'unmeasured');
  await untilTask(house.database, quoted.task, { state: 'done' });
});

test('a quote is worked with the options that it asks for, and says so', async () => {
  const member = await (await house.club()).as('editor');
  await loadSmall(member);
  const loom = oneWireLoom('optional');
  const [wire] = loom.wires;
  const wires = [wire, { ...wire, id: 'W2', options: ['RHD'] }];
  expect((await member.post('/v1/looms', { ...loom, options: ['RHD', 'tow'], wires })).status).toBe(201);
  for (const [options, expected] of [
    [undefined, ['W1']],
    [['tow'], ['W1']],
    [['RHD'], ['W1', 'W2']],
  ] as const) {
    const line = { loom: 'optional', quantity: 1, ...(options ? { options } : {}) };
    const asked = (await member.post('/v1/quotes', { looms: [line] })).json<{ id: string; task: string }>();
    await untilTask(house.database, asked.task.split('/').at(-1) ?? '', { state: 'done' });
    const result = (await member.get(`/v1/quotes/${asked.id}/result`)).json<
      Result & Record<string, unknown>
    >();
    expect(result.looms.map((told) => told.options)).toEqual([options ?? []]);
    const cut = result.requirements.flatMap((need) => (need.kind === 'wire' ? need.pieces : []));
    expect(cut.map((piece) => piece.wire).sort()).toEqual(expected);
  }
});

test('a job that is not valid any more fails its task, and says where the fault is', async () => {
  const club = await house.club();
  const member = await club.as('editor');
  await loadSmall(member);
  await club.run((ctx) =>
    ctx.tx.execute(sql`update parts set body = body || '{"terminalType": "glue"}' where code = 'ring-6'`),
  );
  const { quote, task } = await askQuote(member, 'loom');
  await untilTask(house.database, task, { state: 'failed', attempts: 1 });
  const { problem } = await taskRow(house.database, task);
  expect(problem?.code).toBe('job-not-valid');
  expect(problem?.detail).toMatch(/\/parts\/\d\/terminalType/);
  expect((await member.get(`/v1/quotes/${quote}/result`)).status).toBe(409);
  const shown = (await member.get(`/v1/tasks/${task}`)).json<{ problem: { code: string } }>();
  expect(shown.problem.code).toBe('job-not-valid');
});
