import { pino } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import { archiveLimits } from '../../api/archive/limits.ts';
import { createApp } from '../../api/app.ts';
import { checkerOf, type Checker } from '../../api/http/checker.ts';
import { gateOf, type GateLimits } from '../../api/http/gate.ts';
import { bodyReader } from '../../api/http/reading/bodies.ts';
import { printerOf } from '../../api/http/printer.ts';
import { watchTasks, type Watch } from '../../api/http/watch.ts';
import { asSystem } from '../../db/system.ts';
import { asClub, type ClubCtx, type Ctx } from '../../db/club.ts';
import { testFounder } from './founder.ts';
import { clubNamed } from '../../db/clubs.ts';
import { connectMemory, connectService, type Database } from '../../db/connect.ts';
import type { Limits } from '../../db/limits.ts';
import { createKey } from '../../db/keys.ts';
import { createMember } from '../../db/members.ts';
import type { Role } from '../../db/schema/index.ts';
import { startWorker, type RunningWorker } from '../../worker/service.ts';
import type { Pool } from '../../worker/threads/pool.ts';
import { queueListen, queueWake } from '../../worker/wake/bullmq.ts';
import { inProcessWake } from '../../worker/wake/inProcess.ts';
import type { Handle, Listener, Wake } from '../../worker/wake/wake.ts';
import { clientOf, type Client } from './client.ts';
import { freshDatabase } from './database.ts';
import { emptyFolder } from './emptyFolder.ts';
import { testMode, type Mode } from './mode.ts';
import { freshPrefix, freshRedis } from './redis.ts';
import { warmThreads } from './warmThreads.ts';

/** The whole app in the mode of this run, on a database of its own. */
export interface TestHouse {
  mode: Mode;
  database: Database;
  wake: Wake;
  listen: (handle: Handle) => Listener;
  watch: Watch;
  checker: Checker;
  /** What a process of its own is told so that it works for this house; nothing in embedded mode. */
  environment: Record<string, string>;
  /** A new club with a key of each kind asked for, and what a store takes for it. */
  club(currency?: string): Promise<TestClub>;
  /** A caller without a key, or with the one given. */
  anonymous: Client;
  startWorker(options?: { leaseMs?: number; stopMs?: number }): Promise<RunningWorker>;
  close(): Promise<void>;
}

export interface TestClub {
  id: string;
  name: string;
  ctx: ClubCtx;
  /** With a key of no member. */
  as(role: Role): Promise<Client>;
  /** A new member, with a key that may do what they may. */
  joined(role: Role, name?: string): Promise<TestMember>;
  run<T>(fn: (ctx: Ctx) => Promise<T>): Promise<T>;
}

export interface TestMember {
  id: string;
  /** Of their key. */
  key: string;
  secret: string;
  client: Client;
  /** As whom they ask a store. */
  ctx: ClubCtx;
}

export const silent = pino({ level: 'silent' });

interface HouseOptions {
  /** The clock of the server. */
  now?: () => Date;
  /** Without a limit where it is left out. */
  gate?: GateLimits;
  bodyBytes?: number;
  queuePerClub?: number;
  archiveBytes?: number;
  /** In service mode, another Redis than the run's, which the test may empty or lose. */
  redisUrl?: string;
  /** In service mode, another PostgreSQL than the run's, which the test may lose, and how long it is waited for. */
  databaseUrl?: string;
  limits?: Limits;
  /** Where looms are checked, and how; the engine's threads where none is given. */
  checks?: { pool?: Pool; atOnce?: number; withinMs?: number };
  /** The same for PDFs. */
  prints?: { pool?: Pool; atOnce?: number; withinMs?: number };
}

export async function openHouse(options: HouseOptions = {}): Promise<TestHouse> {
  const mode = testMode();
  const { database, wake, listen, environment, drop } =
    mode === 'embedded' ? await embedded() : await service(options);
  const watch = watchTasks(database, silent, 20);
  const { checks = {}, prints = {}, queuePerClub = 1_000 } = options;
  const { bodyBytes = 16 * 1024 ** 2, archiveBytes = 16 * 1024 ** 2 } = options;
  const checker = checkerOf({ pool: warmThreads, atOnce: 2, withinMs: 60_000, ...checks });
  const printer = printerOf({ pool: warmThreads, atOnce: 2, withinMs: 60_000, ...prints });
  const gate = gateOf(database, options.gate ?? {});
  const bodies = bodyReader({ maxBytes: bodyBytes });
  const app = createApp({
    database,
    gate,
    wake,
    watch,
    checker,
    printer,
    bodies,
    log: silent,
    now: options.now ?? (() => new Date()),
    newId: uuidv7,
    limits: {
      bodyBytes,
      queuePerClub,
      archive: archiveLimits({ bodyBytes, archiveBytes }),
      trustedProxies: 1,
    },
  });
  const workers: RunningWorker[] = [];
  const anonymous = await clientOf(app);

  return {
    mode,
    database,
    wake,
    listen,
    watch,
    checker,
    environment,
    anonymous,
    club: (currency = 'GBP') => newClub(database, currency, anonymous),
    startWorker: async (settings = {}) => {
      const worker = startWorker({
        database,
        wake,
        listen,
        log: silent,
        threads: 1,
        pool: warmThreads,
        leaseMs: settings.leaseMs ?? 5_000,
        stopMs: settings.stopMs ?? 5_000,
      });
      workers.push(worker);
      return worker;
    },
    close: async () => {
      watch.close();
      gate.close();
      await checker.close();
      await printer.close();
      await bodies.close();
      await Promise.all(workers.map((worker) => worker.stop()));
      await wake.close();
      await database.close();
      await drop();
    },
  };
}

async function newClub(database: Database, currency: string, anonymous: Client): Promise<TestClub> {
  const { club } = await asSystem(database, (tx) =>
    clubNamed(tx, testFounder, { name: `Club ${uuidv7()}`, currency }),
  );
  const ctx: ClubCtx = { ...testFounder, club: club.id, whole: true };
  return {
    id: club.id,
    name: club.name,
    ctx,
    run: (fn) => asClub(database, ctx, fn),
    as: async (role) => {
      const { secret } = await asClub(database, ctx, (ctx) =>
        createKey({ ctx, input: { role, label: `${role} of a test` } }),
      );
      return anonymous.with({ authorization: `Bearer ${secret}` });
    },
    joined: async (role, name = `${role} of a test`) => {
      const made = await asClub(database, ctx, async (ctx) => {
        const member = await createMember({ ctx, input: { name, role } });
        const input = { role, label: `key of ${name}`, memberId: member.id };
        return { id: member.id, ...(await createKey({ ctx, input })) };
      });
      const { id, key, secret } = made;
      return {
        id,
        key: key.id,
        secret,
        client: anonymous.with({ authorization: `Bearer ${secret}` }),
        ctx: { ...testFounder, club: club.id, actor: `member:${id}`, member: id, key: key.id, role },
      };
    },
  };
}

async function embedded() {
  const database = await connectMemory(await emptyFolder());
  const { wake, listen } = inProcessWake();
  return {
    database,
    wake,
    listen: (handle: Handle) => listen(handle, { concurrency: 1 }),
    environment: {},
    drop: async () => undefined,
  };
}

async function service({ redisUrl, databaseUrl, limits }: HouseOptions) {
  const fresh =
    databaseUrl === undefined ? await freshDatabase() : { url: databaseUrl, drop: () => Promise.resolve() };
  const { url, prefix } = redisUrl === undefined ? freshRedis() : { url: redisUrl, prefix: freshPrefix() };
  const link = { url, prefix, log: silent };
  return {
    database: await connectService({
      url: fresh.url,
      maxConnections: 6,
      ...(limits === undefined ? {} : { limits }),
    }),
    wake: queueWake(link),
    listen: (handle: Handle) => queueListen(handle, { ...link, concurrency: 1, leaseMs: 5_000 }),
    environment: { DATABASE_URL: fresh.url, REDIS_URL: url, LOOMWRIGHT_QUEUE: prefix },
    drop: fresh.drop,
  };
}
