import type { Binaries } from './binaries.ts';

/** What service mode runs on: servers that somebody gave, and programs to start for what was not given. */
export interface Plan {
  databaseUrl: string | null;
  redisUrl: string | null;
  start: Binaries;
  /** A sentence that says what to install; null where nothing is missing. */
  missing: string | null;
}

type Environment = Record<string, string | undefined>;

/** A server that is given is used; one that is not is started from the installed programs. */
export function planServers(env: Environment, installed: Binaries): Plan {
  const databaseUrl = env['DATABASE_URL'] || null;
  const redisUrl = env['REDIS_URL'] || null;
  const start = {
    postgresFolder: databaseUrl === null ? installed.postgresFolder : null,
    redisServer: redisUrl === null ? installed.redisServer : null,
  };
  const lacking = [
    ...(databaseUrl === null && start.postgresFolder === null
      ? [{ name: 'PostgreSQL (initdb, postgres)', debian: 'postgresql', variable: 'DATABASE_URL' }]
      : []),
    ...(redisUrl === null && start.redisServer === null
      ? [{ name: 'Redis (redis-server)', debian: 'redis-server', variable: 'REDIS_URL' }]
      : []),
  ];
  const all = (field: 'name' | 'debian' | 'variable', join: string) =>
    lacking.map((server) => server[field]).join(join);
  const missing =
    lacking.length === 0
      ? null
      : `The tests in service mode need ${all('name', ' and ')}, not found here. ` +
        `On Debian: apt-get install ${all('debian', ' ')}; or set ${all('variable', ' and ')}.`;
  return { databaseUrl, redisUrl, start, missing };
}

/**
 * Why the tests in service mode are skipped, or null where they can run.
 * Throws in CI, where a run that leaves them out must not pass.
 */
export function skipReason(plan: Plan, env: Environment): string | null {
  if (plan.missing !== null && ['true', '1'].includes(env['CI'] ?? ''))
    throw new Error(`${plan.missing} With CI=true they are not skipped, so the run fails.`);
  return plan.missing;
}
