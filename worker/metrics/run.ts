import type { Logger } from 'pino';
import type { Database } from '../../db/connect.ts';
import { databaseParts } from '../../db/ready.ts';
import type { Config } from '../config.ts';
import type { Parts } from '../wake/ready.ts';
import type { Wake } from '../wake/wake.ts';
import { createMeter, type Meter } from './meter.ts';
import { serveMetrics } from './serve.ts';

interface Metered {
  database: Database;
  wake: Wake;
  meter?: Meter | undefined;
}

const partsOf = ({ database, wake }: Metered): Parts => ({
  ...databaseParts(database),
  queue: () => wake.ready(),
});

/** The meter of a process, where its metrics are to be served. */
export function meterFor(config: Config, database: Database, wake: Wake): Meter | undefined {
  return config.metrics && createMeter(database, partsOf({ database, wake }));
}

/** Serves the metrics of a process where that is asked for. Returns the way to stop. */
export async function startMetrics(
  process: Metered,
  config: Config,
  log: Logger,
): Promise<() => Promise<void>> {
  if (!config.metrics || !process.meter) return () => Promise.resolve();
  const server = await serveMetrics(process.meter, partsOf(process), config.metrics);
  log.info({ url: `${server.url}/metrics` }, 'metrics are served');
  return () => server.close();
}
