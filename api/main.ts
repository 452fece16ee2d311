import { connectService } from '../db/connect.ts';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { readConfig } from '../worker/config.ts';
import { createLog } from '../worker/log.ts';
import { onStop } from '../worker/process.ts';
import { startFault } from '../worker/startFault.ts';
import type { Config } from '../worker/config.ts';
import type { Meter } from '../worker/metrics/meter.ts';
import { meterFor, startMetrics } from '../worker/metrics/run.ts';
import { queueWake } from '../worker/wake/bullmq.ts';
import type { Logger } from 'pino';
import { openEmbedded, welcome } from './embedded.ts';
import { gatherWords } from './gatherWords.ts';
import { redisCounts } from './http/limits/redisCounts.ts';
import { serveApp, type House } from './serve.ts';

const USAGE = `Starts the server:

  npm start

The only flag is --help, which prints this. Its settings are environment variables: PORT, LOOMWRIGHT_DATA and
others. docs/server.md lists them. Example: PORT=9000 npm start
`;

/** The API alone; workers are processes of their own. */
async function service(
  config: Config,
  { databaseUrl, redisUrl, queue }: Extract<Config['store'], { mode: 'service' }>,
  log: Logger,
): Promise<House & { meter: Meter | undefined }> {
  const database = await connectService({ url: databaseUrl });
  const wake = queueWake({ url: redisUrl, prefix: queue, log });
  return {
    database,
    wake,
    meter: meterFor(config, database, wake),
    stopWork: async () => undefined,
    shared: redisCounts({ url: redisUrl, prefix: queue }),
  };
}

async function main(): Promise<void> {
  if (readArguments(process.argv.slice(2), { usage: USAGE, options: {} }).help) {
    process.stdout.write(USAGE);
    return;
  }
  const config = readConfig(process.env);
  const log = createLog(config.logLevel, 'api');
  const { store } = config;
  process.stdout.write('Loomwright is starting. The first start in a folder takes a quarter of a minute.\n');
  const house =
    store.mode === 'embedded'
      ? await openEmbedded(config, store.folder, log, (secret) =>
          process.stdout.write(welcome(config, store.folder, secret)),
        )
      : await service(config, store, log);
  const giveUp = async (error: unknown) => {
    await house.stopWork();
    house.shared?.close();
    await house.wake.close();
    await house.database.close();
    throw error;
  };
  const stopMetrics = await startMetrics(house, config, log).catch(giveUp);
  const server = await serveApp(house, config, log).catch(giveUp);
  const stopGathering = gatherWords(house.database, log);
  // Before it is said that the server runs: whoever reads that may stop it at once.
  onStop(log, config.stopMs, async () => {
    await stopGathering();
    await stopMetrics();
    await server.stop();
  });
  process.stdout.write(
    `Loomwright answers at ${server.url} (${store.mode}). It was ready after ${process.uptime().toFixed(1)} s. All calls are listed at ${server.url}/openapi.json\n`,
  );
}

main().catch((error: unknown) => {
  process.stderr.write(`${startFault(error)}\n`);
  process.exit(error instanceof WrongCall ? 2 : 1);
});
