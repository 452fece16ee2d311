import { connectEmbedded, connectService } from '../db/connect.ts';
import { firstStart } from '../db/first.ts';
import { ConfigError, readConfig, type Config } from '../worker/config.ts';
import { createLog } from '../worker/log.ts';
import { onStop } from '../worker/process.ts';
import { startWorker } from '../worker/service.ts';
import { queueWake } from '../worker/wake/bullmq.ts';
import { inProcessWake } from '../worker/wake/inProcess.ts';
import { v7 as uuidv7 } from 'uuid';
import type { Logger } from 'pino';
import { serveApp, type House } from './serve.ts';

const now = () => new Date();

/** One process: the API and the worker, in a folder of its own. */
async function embedded(config: Config, folder: string, log: Logger): Promise<House> {
  const database = await connectEmbedded({ folder });
  try {
    const secret = await firstStart(database, folder, { ...config.firstClub, now, newId: uuidv7 });
    if (secret !== undefined) welcome(config, folder, secret);
    const { wake, listen } = inProcessWake();
    const worker = await startWorker({
      database,
      wake,
      listen: (handle) => listen(handle, { concurrency: config.threads }),
      log,
      threads: config.threads,
      leaseMs: config.leaseMs,
      stopMs: config.stopMs,
      wakeAllFirst: true,
    });
    return { database, wake, stopWork: () => worker.stop() };
  } catch (error) {
    await database.close();
    throw error;
  }
}

/** The API alone; workers are processes of their own. */
async function service(databaseUrl: string, redisUrl: string, queue: string, log: Logger): Promise<House> {
  const database = await connectService({ url: databaseUrl });
  return {
    database,
    wake: queueWake({ url: redisUrl, prefix: queue, log }),
    stopWork: async () => undefined,
  };
}

function welcome(config: Config, folder: string, secret: string): void {
  process.stdout.write(
    `This is the first start in ${folder}. It made the club “${config.firstClub.name}” and one admin key:\n\n  ${secret}\n\n` +
      `It is shown this once and kept in ${folder}/admin-key, readable by you alone.\n`,
  );
}

async function main(): Promise<void> {
  const config = readConfig(process.env);
  const log = createLog(config.logLevel, 'api');
  const { store } = config;
  const house =
    store.mode === 'embedded'
      ? await embedded(config, store.folder, log)
      : await service(store.databaseUrl, store.redisUrl, store.queue, log);
  const server = await serveApp(house, config, log);
  process.stdout.write(
    `Loomwright answers at ${server.url} (${store.mode}); the calls are listed at ${server.url}/openapi.json\n`,
  );
  onStop(log, config.stopMs, () => server.stop());
}

main().catch((error: unknown) => {
  const said = error instanceof Error ? error.message : 'The server could not start.';
  process.stderr.write(
    error instanceof ConfigError ? `The environment cannot be used:\n${said}\n` : `${said}\n`,
  );
  process.exit(1);
});
