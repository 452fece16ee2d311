import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { findBinaries } from '../../support/binaries.ts';
import { keepServers } from '../../support/servers.ts';

const ONE = fileURLToPath(new URL('one.ts', import.meta.url));

/** A large catalogue in both modes, each in a process of its own, so that each tells its own memory. */
export async function benchCatalogue(): Promise<void> {
  run({});
  const kept = await keepServers({ ...findBinaries(), redisServer: null });
  try {
    if (kept.databaseUrl === null) console.log('Service mode is left out: PostgreSQL is not installed.');
    else run({ DATABASE_URL: kept.databaseUrl });
  } finally {
    await kept.stop();
  }
}

function run(environment: Record<string, string>): void {
  const { PATH, HOME } = process.env;
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', ONE], {
    stdio: 'inherit',
    env: { PATH, HOME, ...environment },
  });
  if (status !== 0) throw new Error(`the bench of the catalogue ended with ${status}`);
}
