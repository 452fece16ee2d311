import type { TestProject, TestSpecification } from 'vitest/node';
import { findBinaries } from './binaries.ts';
import { buildPrograms } from './build.ts';
import { dumpEmptyFolder } from './dump.ts';
import { planServers, skipReason } from './plan.ts';
import { keepServers } from './servers.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** A superuser's (or the given) URL of the server that tests make their databases on. */
    databaseUrl: string | null;
    redisUrl: string | null;
    /** Why the service project is skipped; null where it runs. */
    serviceSkipReason: string | null;
    /** A file that holds a migrated, empty PGlite folder; null where no file of the embedded project runs. */
    embeddedDump: string | null;
    /** A folder with the programs as JavaScript; null where no fault test runs. */
    builtPrograms: string | null;
  }
}

/** Once a run: what the projects stand on, where any of their files is going to run. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const files = await filesToRun(project);
  const names = new Set(files.map((file) => file.project.name));
  project.provide(
    'builtPrograms',
    files.some(({ moduleId }) => moduleId.includes('/test/faults/')) ? buildPrograms() : null,
  );
  const dump = names.has('embedded') ? await dumpEmptyFolder() : null;
  project.provide('embeddedDump', dump?.file ?? null);
  const stopServers = await startServers(project, names.has('service'));
  return async () => {
    await stopServers();
    await dump?.remove();
  };
}

async function startServers(project: TestProject, wanted: boolean): Promise<() => Promise<void>> {
  const tell = (databaseUrl: string | null, redisUrl: string | null, reason: string | null) => {
    project.provide('databaseUrl', databaseUrl);
    project.provide('redisUrl', redisUrl);
    project.provide('serviceSkipReason', reason);
  };
  const nothing = () => Promise.resolve();
  tell(null, null, null);
  if (!wanted) return nothing;

  const plan = planServers(process.env, findBinaries());
  const reason = skipReason(plan, process.env);
  if (reason !== null) {
    tell(null, null, reason);
    return nothing;
  }
  if (plan.databaseUrl !== null && plan.redisUrl !== null) {
    tell(plan.databaseUrl, plan.redisUrl, null);
    return nothing;
  }
  const kept = await keepServers(plan.start);
  tell(plan.databaseUrl ?? kept.databaseUrl, plan.redisUrl ?? kept.redisUrl, null);
  return () => kept.stop();
}

/** The files that the command line's projects and names leave. */
async function filesToRun({ vitest }: TestProject): Promise<TestSpecification[]> {
  // Not in the published types; without it a run of a few unit files starts the servers for nothing, no worse.
  const { filenamePattern } = vitest as { filenamePattern?: string[] };
  return vitest.globTestSpecifications(filenamePattern);
}
