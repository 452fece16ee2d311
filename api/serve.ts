import { serve, type ServerType } from '@hono/node-server';
import type { AddressInfo } from 'node:net';
import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import type { Database } from '../db/connect.ts';
import { QUEUE_PER_CLUB } from '../db/tasks.ts';
import type { Wake } from '../worker/wake/wake.ts';
import { THREAD_MB, threadPool } from '../worker/threads/pool.ts';
import { archiveLimits } from './archive/limits.ts';
import { createApp } from './app.ts';
import { checkerOf } from './http/checker.ts';
import { printerOf } from './http/printer.ts';
import { watchTasks } from './http/watch.ts';

/** What the server stands on, and how the work beside it is stopped. */
export interface House {
  database: Database;
  wake: Wake;
  stopWork: () => Promise<void>;
}

/** Of a process; each check has a thread of its own, of which one is kept warm. */
const CHECKS = { atOnce: 2, withinMs: 30_000 };
/** One thread at a time: a PDF of 10,000 wires takes most of a minute. */
const PRINTS = { atOnce: 2, withinMs: 120_000 };

export interface Served {
  url: string;
  /** Ends streams, then requests, then work, then connections. */
  stop(): Promise<void>;
}

/** Serves the app over HTTP. Rejects where the port cannot be had. */
export async function serveApp(
  house: House,
  options: {
    host: string;
    port: number;
    bodyBytes: number;
    archiveBytes: number;
    queuePerClub?: number;
    threadMb?: number;
  },
  log: Logger,
): Promise<Served> {
  const { database, wake } = house;
  const watch = watchTasks(database, log);
  const memory = { memoryMb: options.threadMb ?? THREAD_MB };
  const checker = checkerOf({ pool: threadPool(1, memory), ...CHECKS });
  const printer = printerOf({ pool: threadPool(1, memory), ...PRINTS });
  const app = createApp({
    database,
    wake,
    watch,
    checker,
    printer,
    log,
    now: () => new Date(),
    newId: uuidv7,
    limits: {
      bodyBytes: options.bodyBytes,
      queuePerClub: options.queuePerClub ?? QUEUE_PER_CLUB,
      archive: archiveLimits(options),
    },
  });
  const server = await new Promise<ServerType>((resolve, reject) => {
    const starting = serve({ fetch: app.fetch, hostname: options.host, port: options.port }, () =>
      resolve(starting),
    );
    starting.once('error', reject);
  });
  const { port } = server.address() as AddressInfo;
  const host = options.host.includes(':') ? `[${options.host}]` : options.host;
  return {
    url: `http://${host}:${port}`,
    stop: async () => {
      // An open stream would keep the server from closing.
      watch.close();
      // A check in hand would keep it too; its caller is told to ask again.
      const unchecked = Promise.all([checker.close(), printer.close()]);
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      if ('closeIdleConnections' in server) server.closeIdleConnections();
      await house.stopWork();
      await Promise.all([closed, unchecked]);
      await wake.close();
      await database.close();
    },
  };
}
