import { serve, type ServerType } from '@hono/node-server';
import type { AddressInfo } from 'node:net';
import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import type { Database } from '../db/connect.ts';
import type { Wake } from '../worker/wake/wake.ts';
import { threadPool } from '../worker/threads/pool.ts';
import { archiveLimits } from './archive/limits.ts';
import { createApp } from './app.ts';
import { checkerOf } from './http/checker.ts';
import type { Meter } from './http/meter.ts';
import { printerOf } from './http/printer.ts';
import { watchTasks } from './http/watch.ts';

/** What the server stands on, and how the work beside it is stopped. */
export interface House {
  database: Database;
  wake: Wake;
  stopWork: () => Promise<void>;
  meter?: Meter | undefined;
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
    publicUrl?: string | undefined;
  },
  log: Logger,
): Promise<Served> {
  const { database, wake, meter } = house;
  const metered = (name: string, size: number) => {
    const pool = threadPool(1);
    return meter?.pool(name, size, pool) ?? pool;
  };
  const watch = watchTasks(database, log);
  const checker = checkerOf({ pool: metered('checks', CHECKS.atOnce), ...CHECKS });
  const printer = printerOf({ pool: metered('prints', PRINTS.atOnce), ...PRINTS });
  const app = createApp({
    database,
    wake,
    watch,
    checker,
    printer,
    log,
    now: () => new Date(),
    newId: uuidv7,
    meter,
    publicUrl: options.publicUrl,
    limits: { bodyBytes: options.bodyBytes, archive: archiveLimits(options) },
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
