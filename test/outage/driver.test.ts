import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createServer, type AddressInfo, type Server } from 'node:net';
import { once } from 'node:events';
import postgres from 'postgres';
import { afterEach, describe, expect, test } from 'vitest';

// The driver is patched when the packages are installed. A server of these tests plays what a real one does only at times.
const root = new URL('../../', import.meta.url);
const text = (path: string) => readFileSync(new URL(path, root), 'utf8');

describe('the patch of the driver', () => {
  test('is for the version that is installed, and its installation fails where it cannot be applied', () => {
    const { version } = JSON.parse(text('node_modules/postgres/package.json')) as { version: string };
    expect(text(`patches/postgres+${version}.patch`)).toContain('answer_timeout');
    const { scripts } = JSON.parse(text('package.json')) as { scripts: Record<string, string> };
    expect(scripts['postinstall']).toBe('patch-package --error-on-fail --error-on-warn');
    expect(text('Dockerfile')).toMatch(/COPY patches patches\n(.*\n)*?RUN npm ci/);
  });

  test('is applied to all that Node can load', () => {
    const added = text(`patches/postgres+3.4.9.patch`)
      .split('\n')
      .filter((line) => line.startsWith('+') && !line.startsWith('+++') && line.trim().length > 20)
      .map((line) => line.slice(1));
    expect(added.length).toBeGreaterThan(60);
    for (const folder of ['src', 'cjs/src']) {
      const is = ['connection.js', 'index.js']
        .map((file) => text(`node_modules/postgres/${folder}/${file}`))
        .join('');
      const types = text('node_modules/postgres/types/index.d.ts');
      expect(added.filter((line) => !is.includes(line) && !types.includes(line))).toEqual([]);
    }
  });
});

const message = (type: string, body: Buffer) => {
  const head = Buffer.alloc(5);
  head.write(type);
  head.writeInt32BE(body.length + 4, 1);
  return Buffer.concat([head, body]);
};
const authenticated = message('R', Buffer.from([0, 0, 0, 0]));
const ready = (state: 'I' | 'T') => message('Z', Buffer.from(state));
const done = (tag: string) => message('C', Buffer.from(`${tag}\0`));

/** How the server goes on after a login: with what a query says, it answers bytes, `cut`, or `silence`. */
type Answers = (query: string) => Buffer | 'cut' | 'silence';

let server: Server | undefined;
afterEach(() => void server?.close());

/** Speaks as much of PostgreSQL's protocol (version 3, "Frontend/Backend Protocol") as simple queries take. */
async function played(answers: Answers, login: Buffer | 'cut' = Buffer.concat([authenticated, ready('I')])) {
  let logins = 0;
  server = createServer((socket) => {
    socket.on('error', () => undefined);
    socket.once('data', () => {
      logins++;
      if (login === 'cut') return void socket.end();
      socket.write(login);
      socket.on('data', (data) => {
        if (data[0] === 'X'.charCodeAt(0)) return;
        const answer = answers(data.toString('latin1'));
        if (answer === 'cut') socket.destroy();
        else if (answer !== 'silence') socket.write(answer);
      });
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  return { port, logins: () => logins };
}

const loaded = {
  import: postgres,
  require: createRequire(import.meta.url)('postgres') as typeof postgres,
};

describe.each(['import', 'require'] as const)('the driver by %s', (how) => {
  const open = (port: number, options: postgres.Options<Record<string, never>> & { hosts?: number } = {}) =>
    loaded[how](
      `postgres://x@${Array.from({ length: options.hosts ?? 1 }, () => `127.0.0.1:${port}`).join(',')}/x`,
      {
        max: 1,
        fetch_types: false,
        backoff: () => 0,
        connect_timeout: 5,
        ...options,
      },
    );
  const simple = (query: string) =>
    query.includes('begin') ? [done('BEGIN'), ready('T')] : [done('SELECT 0'), ready('I')];
  const ok: Answers = (query) => Buffer.concat(simple(query));

  test('settles what is asked after its connection was cut, and what is asked next works', async () => {
    let cuts = 0;
    const { port } = await played((query) => (query.includes('break') && cuts++ === 0 ? 'cut' : ok(query)));
    const sql = open(port);
    const broken = sql.begin(async (tx) => {
      await tx.unsafe('break').catch(() => undefined);
      // Said to a connection that is gone, in less and in more bytes than are written at once.
      const after = await Promise.allSettled([
        tx.unsafe('select 1'),
        tx.unsafe(`select '${'x'.repeat(4096)}'`),
      ]);
      return after.map(({ status }) => status);
    });
    await expect(broken).rejects.toMatchObject({
      code: expect.stringMatching(/CONNECTION_CLOSED|ECONNRESET/) as string,
    });
    for (let n = 0; n < 3; n++) await expect(sql.unsafe('select 1')).resolves.toBeDefined();
    await sql.end({ timeout: 1 });
  });

  test('never says to a new connection what a lost transaction still had to say', async () => {
    const heard: string[] = [];
    const { port } = await played((query) => {
      heard.push(query);
      return query.includes('break') ? 'cut' : ok(query);
    });
    const sql = open(port);
    let goOn = () => {};
    const next = new Promise<void>((resolve) => (goOn = resolve));
    let late: Promise<unknown> | undefined;
    const lost = sql.begin(async (tx) => {
      await tx.unsafe('break').catch(() => undefined);
      await next;
      late = Promise.allSettled([tx.unsafe('insert late')]);
      await late;
    });
    await expect(lost).rejects.toThrow();
    await sql.unsafe('select 1');
    goOn();
    await sql.unsafe('select 2');
    expect(await late).toMatchObject([{ status: 'rejected' }]);
    expect(heard.filter((query) => /insert late|rollback|commit/.test(query))).toEqual([]);
    await sql.end({ timeout: 1 });
  });

  test('settles a query whose server takes connections and ends them at once, instead of trying for ever', async () => {
    const { port, logins } = await played(ok, 'cut');
    const sql = open(port);
    await expect(sql.unsafe('select 1')).rejects.toMatchObject({ code: 'CONNECTION_CLOSED' });
    expect(logins()).toBe(1);
    await sql.end({ timeout: 1 });
  });

  test('tries each host once, and settles where none answers', async () => {
    const { port, logins } = await played(ok, 'cut');
    const sql = open(port, { hosts: 3 });
    await expect(sql.unsafe('select 1')).rejects.toMatchObject({ code: 'CONNECTION_CLOSED' });
    expect(logins()).toBe(3);
    await sql.end({ timeout: 1 });
  });

  test('outlives a connection that is cut while it asks for the types of arrays', async () => {
    const { port } = await played((query) => (query.includes('pg_type') ? 'cut' : ok(query)));
    const sql = open(port, { fetch_types: true });
    await expect(sql.unsafe('select 1')).rejects.toMatchObject({ code: 'CONNECTION_CLOSED' });
    await sql.end({ timeout: 1 });
  });

  test('gives up a server that owes an answer and says nothing, and lets its connection go', async () => {
    let silent = true;
    const { port } = await played((query) => (silent ? 'silence' : ok(query)));
    const sql = open(port, { answer_timeout: 0.05 });
    await expect(sql.unsafe('select 1')).rejects.toMatchObject({ code: 'ANSWER_TIMEOUT' });
    silent = false;
    await expect(sql.unsafe('select 1')).resolves.toBeDefined();
    await sql.end({ timeout: 1 });
  });
});
