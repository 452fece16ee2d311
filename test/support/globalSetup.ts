import type { TestProject } from 'vitest/node';
import { findBinaries } from './binaries.ts';
import { planServers, skipReason } from './plan.ts';
import { keepServers } from './servers.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** A superuser's (or the given) URL of the server that tests make their databases on. */
    databaseUrl: string | null;
    redisUrl: string | null;
    /** Why the service project is skipped; null where it runs. */
    serviceSkipReason: string | null;
  }
}

/** Once a run: the servers of the service project, where any of its files is going to run. */
export default async function setup(project: TestProject): Promise<(() => Promise<void>) | undefined> {
  const tell = (databaseUrl: string | null, redisUrl: string | null, reason: string | null) => {
    project.provide('databaseUrl', databaseUrl);
    project.provide('redisUrl', redisUrl);
    project.provide('serviceSkipReason', reason);
  };
  tell(null, null, null);
  if (!(await serviceWillRun(project))) return;

  const plan = planServers(process.env, findBinaries());
  const reason = skipReason(plan, process.env);
  if (reason !== null) {
    tell(null, null, reason);
    return;
  }
  if (plan.databaseUrl !== null && plan.redisUrl !== null) {
    tell(plan.databaseUrl, plan.redisUrl, null);
    return;
  }
  const kept = await keepServers(plan.start);
  tell(plan.databaseUrl ?? kept.databaseUrl, plan.redisUrl ?? kept.redisUrl, null);
  return () => kept.stop();
}

/** Asks for the files that the command line's projects and names leave. */
async function serviceWillRun({ vitest }: TestProject): Promise<boolean> {
  // Not in the published types; without it a run of a few unit files starts the servers for nothing, no worse.
  const { filenamePattern } = vitest as { filenamePattern?: string[] };
  const files = await vitest.globTestSpecifications(filenamePattern);
  return files.some((file) => file.project.name === 'service');
}
