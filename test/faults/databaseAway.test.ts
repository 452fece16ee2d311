import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { asClub } from '../../db/club.ts';
import { connectService } from '../../db/connect.ts';
import { DatabaseAway } from '../../db/outage.ts';
import { figure } from '../support/figures.ts';
import type { Client, Got } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { gateBefore, type Gate } from '../support/gate.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { postgresOfOwn, type OwnPostgres } from '../support/postgresOfOwn.ts';

// The whole app over a gate before a PostgreSQL of the test's own, with short limits.
const LIMITS = { connectSeconds: 1, answerSeconds: 1, waitMs: 1_000 };
/** Of a call that needs two transactions: its key is looked up, then it is carried out. */
const LONGEST_CALL_MS = 2 * (LIMITS.waitMs + LIMITS.connectSeconds * 1_000 + LIMITS.answerSeconds * 1_000);

let server: OwnPostgres;
let gate: Gate;
let house: TestHouse;
let club: TestClub;
let member: Client;
let loom: object;

beforeAll(async () => {
  server = await postgresOfOwn();
  gate = await gateBefore(server.url);
  await gate.set('open');
  house = await openHouse({ databaseUrl: gate.url, limits: LIMITS });
  club = await house.club();
  member = await club.as('admin');
  await loadSmall(member);
  loom = { looms: [{ loom: 'loom', quantity: 1 }] };
});
afterAll(async () => {
  await gate.set('open');
  await house.close();
  await gate.close();
  await server.remove();
});
beforeEach(async () => {
  await gate.set('open');
  await untilWell();
});

const untilWell = () =>
  vi.waitFor(async () => expect((await member.get('/v1/parts')).status).toBe(200), {
    timeout: 15_000,
    interval: 50,
  });
const ask = (headers: Record<string, string> = {}) => member.post('/v1/quotes', loom, headers);
const kindOf = (got: Got) => got.json<{ type: string }>().type.split(/[:/]/).at(-1);
const detailOf = (got: Got) => got.json<{ detail: string }>().detail;
const quotes = async () =>
  (await server.admin((sql) => sql<{ n: number }[]>`select count(*)::int as n from quotes`))[0]?.n ?? -1;

describe('a PostgreSQL that is not there', () => {
  test('is told as such, with a time to try again, and that nothing was stored', async () => {
    const before = await quotes();
    await gate.set('shut');
    const [read, write] = await Promise.all([member.get('/v1/parts'), ask()]);
    for (const got of [read, write]) {
      expect([got.status, kindOf(got)]).toEqual([503, 'database-away']);
      expect(Number(got.headers.get('retry-after'))).toBeGreaterThan(0);
    }
    expect(detailOf(write)).toContain('Nothing was stored.');
    expect(detailOf(read)).not.toContain('stored');
    expect((await house.anonymous.get('/readyz')).text).toContain('The database does not answer.');
    await gate.set('open');
    await untilWell();
    expect(await quotes()).toBe(before);
  });
});

describe('a PostgreSQL that takes connections and says nothing', () => {
  test(
    'is told to every caller within the limits; its connections are let go, and all works when it speaks',
    async () => {
      await gate.set('mute');
      const began = performance.now();
      let longest = 0;
      const calls = Array.from({ length: 24 }, async (_, n) => {
        const got = await (n % 2 === 0 ? member.get('/v1/parts') : ask());
        longest = Math.max(longest, performance.now() - began);
        return `${got.status} ${kindOf(got)}`;
      });
      expect(new Set(await Promise.all(calls))).toEqual(new Set(['503 database-away']));
      figure('longest answer while PostgreSQL says nothing, with limits of 1 s', Math.round(longest), 'ms');
      await gate.set('open');
      await untilWell();
      const connections = await server.admin(
        (sql) => sql<{ n: number }[]>`select count(*)::int as n from pg_stat_activity
        where application_name = 'postgres.js' and pid <> pg_backend_pid()`,
      );
      expect(connections[0]?.n).toBeLessThanOrEqual(6);
      const all = await Promise.all(Array.from({ length: 12 }, () => member.get('/v1/parts')));
      expect(all.every((got) => got.status === 200)).toBe(true);
    },
    LONGEST_CALL_MS * 5,
  );

  test('in the middle of a statement: the statement is given up, and nothing is stored', async () => {
    const working = club.run(async (ctx) => {
      await ctx.tx.execute(sql`select 1`);
      await gate.set('mute');
      await ctx.tx.execute(sql`select 2`);
    });
    await expect(working).rejects.toThrow(DatabaseAway);
  });
});

describe('a limit of time', () => {
  test('is one of a statement: a transaction of many goes on for longer', async () => {
    await club.run(async (ctx) => {
      for (let n = 0; n < 4; n++) await ctx.tx.execute(sql`select pg_sleep(0.4)`);
    });
  });

  test('ends a statement at the server too, and the connection serves on', async () => {
    const slow = club.run((ctx) => ctx.tx.execute(sql`select pg_sleep(30)`));
    await expect(slow).rejects.toThrow(DatabaseAway);
    const [left] = await server.admin(
      (sql) => sql<{ n: number }[]>`select count(*)::int as n from pg_stat_activity
        where state = 'active' and query like '%pg_sleep(30)%' and pid <> pg_backend_pid()`,
    );
    expect(left?.n).toBe(0);
  });
});

describe('a commit whose answer is lost', () => {
  const lose = () => gate.loseCommitAfter('insert into "quotes"');

  test('is told as not known, never as nothing stored; repeated with its key it is done once', async () => {
    const before = await quotes();
    const key = { 'idempotency-key': 'lost-answer' };
    lose();
    const got = await ask(key);
    expect([got.status, kindOf(got)]).toEqual([503, 'outcome-unknown']);
    expect(detailOf(got)).toContain('It may be stored or not.');
    expect(detailOf(got)).toContain('with the same Idempotency-Key');
    expect(await quotes()).toBe(before + 1);
    const again = await ask(key);
    expect([again.status, again.headers.get('idempotent-replay')]).toEqual([202, 'true']);
    expect(await quotes()).toBe(before + 1);
  });

  test('of a request without a key says how to look first', async () => {
    lose();
    const got = await ask();
    expect(kindOf(got)).toBe('outcome-unknown');
    expect(detailOf(got)).toContain('First look whether it is there.');
  });

  test('of a change says to read it again', async () => {
    const read = await member.get('/v1/parts/ring-6');
    gate.loseCommitAfter('update "parts"');
    const part = { ...read.json(), note: 'Changed' };
    const got = await member.put('/v1/parts/ring-6', part, { 'if-match': read.headers.get('etag') ?? '' });
    expect([got.status, kindOf(got)]).toEqual([503, 'outcome-unknown']);
    expect(detailOf(got)).toContain('Read it again');
    expect((await member.get('/v1/parts/ring-6')).json()).toMatchObject({ note: 'Changed' });
  });
});

describe('a failover', () => {
  let second: OwnPostgres;
  beforeAll(async () => {
    second = await postgresOfOwn({ copyOf: server });
  });
  afterAll(() => second.remove());

  const readOnly = (of: OwnPostgres, on: boolean) =>
    of.admin(async (sql) => {
      await sql.unsafe(`alter system set default_transaction_read_only = ${on ? 'on' : 'off'}`);
      await sql`select pg_reload_conf()`;
    });

  test('behind one address: connections to a server that became read-only are dropped, and lead to the new one', async () => {
    expect((await ask()).status).toBe(202);
    await readOnly(server, true);
    gate.leadTo(second.url);
    const answers: string[] = [];
    await vi.waitFor(
      async () => {
        const got = await ask();
        answers.push(got.status === 202 ? '202' : `${got.status} ${kindOf(got)}`);
        expect(got.status).toBe(202);
      },
      { timeout: 15_000, interval: 20 },
    );
    expect(new Set(answers)).toEqual(new Set(['503 database-away', '202']));
    gate.leadTo(server.url);
    await readOnly(server, false);
    gate.cut();
  });

  test('to another host of DATABASE_URL: one that is gone, silent or read-only is passed over', async () => {
    const hosts = new URL(gate.url);
    const url = gate.url.replace(hosts.host, `${hosts.host},${new URL(second.url).host}`);
    const database = await connectService({ url, maxConnections: 2, limits: LIMITS });
    const portOf = () =>
      vi.waitFor(
        async () => {
          const [row] = await asClub(database, club.ctx, (ctx) =>
            ctx.tx
              .select({ port: sql`current_setting('port')`.mapWith(Number) })
              .from(sql`(values (1)) as one`),
          );
          return row?.port;
        },
        { timeout: 15_000, interval: 20 },
      );
    try {
      await gate.set('shut');
      expect(await portOf()).toBe(second.port);
      await gate.set('mute');
      await second.admin(
        (sql) =>
          sql`select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid() and backend_type = 'client backend'`,
      );
      expect(await portOf()).toBe(second.port);
      await gate.set('open');
      await readOnly(second, true);
      await second.admin(
        (sql) =>
          sql`select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid() and backend_type = 'client backend'`,
      );
      expect(await portOf()).toBe(server.port);
    } finally {
      await database.close();
    }
  });
});
