import { connectService } from '../db/connect.ts';
import { readArguments, WrongCall } from './command/arguments.ts';
import { ConfigError, readConfig } from './config.ts';
import { createLog } from './log.ts';
import { meterFor, startMetrics } from './metrics/run.ts';
import { onStop } from './process.ts';
import { startWorker } from './service.ts';
import { startFault } from './startFault.ts';
import { queueListen, queueWake } from './wake/bullmq.ts';

const USAGE = `Starts a worker process of the service:

  npm run worker

The only flag is --help, which prints this. Its settings are environment variables: DATABASE_URL, REDIS_URL and
others. docs/server.md lists them.
`;

/** A worker process of the service. In embedded mode the API's process works itself, and this one refuses. */
async function main(): Promise<void> {
  if (readArguments(process.argv.slice(2), { usage: USAGE, options: {} }).help) {
    process.stdout.write(USAGE);
    return;
  }
  const config = readConfig(process.env);
  if (config.store.mode === 'embedded')
    throw new ConfigError(
      'DATABASE_URL and REDIS_URL: a separate worker needs both; without them `npm start` runs server and worker in one process',
    );
  const { databaseUrl, redisUrl, queue } = config.store;
  const log = createLog(config.logLevel, 'worker');
  const database = await connectService({ url: databaseUrl, maxConnections: 2 + 2 * config.threads });
  const link = { url: redisUrl, prefix: queue, log };
  const wake = queueWake(link);
  const meter = meterFor(config, database, wake);
  const worker = startWorker({
    database,
    wake,
    listen: (handle) =>
      queueListen(handle, { ...link, concurrency: config.threads, leaseMs: config.leaseMs }),
    log,
    threads: config.threads,
    meter,
    leaseMs: config.leaseMs,
    stopMs: config.stopMs,
    threadMb: config.threadMb,
  });
  const stopMetrics = await startMetrics({ database, wake, meter }, config, log);
  onStop(log, config.stopMs, async () => {
    await stopMetrics();
    await worker.stop();
    await wake.close();
    await database.close();
  });
  log.info('working');
}

main().catch((error: unknown) => {
  process.stderr.write(`${startFault(error)}\n`);
  process.exit(error instanceof WrongCall ? 2 : 1);
});
