import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { findBinaries, type Binaries } from './binaries.ts';

/** Servers that run until they are stopped; null for one that was not asked for. */
export interface Kept {
  databaseUrl: string | null;
  databasePid: number | null;
  redisUrl: string | null;
  redisPid: number | null;
}

export interface KeptServers extends Kept {
  stop: () => Promise<void>;
}

/**
 * Starts private throw-away servers on free loopback ports: PostgreSQL from the folder of its programs, Redis from its
 * program. They end with `stop`, or with this process however that ends. Throws with the server's own words where one
 * does not start.
 */
export async function keepServers(wanted: Binaries): Promise<KeptServers> {
  const keeper = fork(fileURLToPath(new URL('keeper.ts', import.meta.url)), [JSON.stringify(wanted)], {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    execArgv: ['--import', 'tsx'],
    // Its own process group, so that Ctrl-C does not end it before it has ended its servers.
    detached: true,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  const gone = once(keeper, 'exit');
  const told = await Promise.race([
    once(keeper, 'message').then(([message]) => message as Kept | { fault: string }),
    gone.then(() => ({ fault: 'The process that keeps the test servers ended before they were ready.' })),
  ]);
  if ('fault' in told) {
    await gone;
    throw new Error(told.fault);
  }
  const stop = async () => {
    if (keeper.connected) keeper.disconnect();
    await gone;
  };
  return { ...told, stop };
}

/** A Redis of a test's own, which it may empty or kill. */
export async function privateRedis(): Promise<{ url: string; pid: number; stop: () => Promise<void> }> {
  const kept = await keepServers({
    postgresFolder: null,
    redisServer: findBinaries().redisServer,
  });
  const stop = () => kept.stop();
  if (kept.redisUrl === null || kept.redisPid === null) {
    await stop();
    throw new Error('This test empties or kills a Redis of its own, and redis-server is not installed.');
  }
  return { url: kept.redisUrl, pid: kept.redisPid, stop };
}
