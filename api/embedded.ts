import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import { connectEmbedded } from '../db/connect.ts';
import { firstStart } from '../db/first.ts';
import type { Config } from '../worker/config.ts';
import { startWorker } from '../worker/service.ts';
import { inProcessWake } from '../worker/wake/inProcess.ts';
import { meterFor } from '../worker/metrics/run.ts';
import type { Meter } from '../worker/metrics/meter.ts';
import type { House } from './serve.ts';
import { tendStatistics } from './tendStatistics.ts';

const now = () => new Date();

/**
 * The embedded house: database, waking and worker in this process, in a folder of its own. Throws FolderInUse where another
 * process works in it.
 */
export async function openEmbedded(
  config: Config,
  folder: string,
  log: Logger,
  onFirstStart: (secret: string) => void,
): Promise<House & { meter: Meter | undefined }> {
  const database = await connectEmbedded({
    folder,
    onClosedToOthers: () =>
      log.warn(
        { folder },
        'the data folder was open to other accounts of this machine; now it is closed to them',
      ),
  });
  try {
    const secret = await firstStart(database, folder, { ...config.firstClub, now, newId: uuidv7 });
    if (secret !== undefined) onFirstStart(secret);
    const { wake, listen } = inProcessWake();
    const meter = meterFor(config, database, wake);
    const worker = startWorker({
      database,
      wake,
      listen: (handle) => listen(handle, { concurrency: config.threads }),
      log,
      threads: config.threads,
      meter,
      leaseMs: config.leaseMs,
      stopMs: config.stopMs,
      threadMb: config.threadMb,
    });
    const stopTending = tendStatistics(database, log);
    const stopWork = async () => {
      await stopTending();
      await worker.stop();
    };
    return { database, wake, meter, stopWork };
  } catch (error) {
    await database.close();
    throw error;
  }
}

/** What a first start says, with the key that is shown this once. */
export function welcome(config: Config, folder: string, secret: string): string {
  return (
    `This is the first start in ${folder}. It made the club “${config.firstClub.name}” and one admin key:\n\n  ${secret}\n\n` +
    `It is shown only this once. It is also in ${folder}/admin-key, which only you can read.\n`
  );
}
