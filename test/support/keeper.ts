// A process of its own that starts servers and stops them when whoever asked for them is gone, however it went:
// its end of the channel closes on a normal end, on Ctrl-C and on a kill alike.
import type { Binaries } from './binaries.ts';
import { createLauncher } from './launcher.ts';
import { startPostgres } from './postgresServer.ts';
import { startRedis } from './redisServer.ts';
import type { Kept } from './servers.ts';

const launcher = createLauncher();
let stopping = false;

async function stop(): Promise<void> {
  if (stopping) return;
  stopping = true;
  await launcher.stopAll();
  process.exit();
}

process.on('disconnect', () => void stop());
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());

const wanted = JSON.parse(process.argv[2] ?? '') as Binaries;
try {
  const [database, redis] = await Promise.all([
    wanted.postgresFolder === null ? null : startPostgres(launcher, wanted.postgresFolder),
    wanted.redisServer === null ? null : startRedis(launcher, wanted.redisServer),
  ]);
  tell({
    databaseUrl: database?.url ?? null,
    databasePid: database?.pid ?? null,
    redisUrl: redis?.url ?? null,
    redisPid: redis?.pid ?? null,
  });
} catch (error) {
  if (!stopping) tell({ fault: error instanceof Error ? error.message : String(error) });
  await stop();
}

function tell(message: Kept | { fault: string }): void {
  // Where the channel has closed meanwhile, 'disconnect' stops us.
  process.send?.(message, () => {});
}
