import type { Logger } from 'pino';

/** Beyond the grace for tasks: time to hand back, close connections and go. */
const LAST_RESORT_MS = 10_000;

/** The shell by which npm starts a program, where npm did. */
const PARENT = process.ppid;
const LOOK_MS = 500;

/**
 * On SIGTERM or SIGINT stops in order, once; a stop that hangs is ended. Where npm started this, it stops when npm's shell
 * is gone as well: that dies of the signal that npm is given, and passes nothing on. (`exec` in npm's script would do the
 * same, but not on Windows, whose shell has no such word.)
 */
export function onStop(log: Logger, graceMs: number, stop: () => Promise<void>): void {
  let stopping = false;
  const begin = (signal: NodeJS.Signals) => {
    if (stopping) return;
    stopping = true;
    log.info({ signal }, 'stopping');
    const lastResort = setTimeout(() => {
      log.error('the stop took too long; ending now');
      process.exit(1);
    }, graceMs + LAST_RESORT_MS);
    stop().then(
      () => {
        clearTimeout(lastResort);
        log.info('stopped');
        process.exit(0);
      },
      (error: unknown) => {
        log.error({ err: { name: error instanceof Error ? error.name : 'unknown' } }, 'the stop failed');
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', begin);
  process.on('SIGINT', begin);
  if (process.env['npm_lifecycle_event'] === undefined) return;
  const looking = setInterval(() => {
    if (process.ppid === PARENT) return;
    clearInterval(looking);
    begin('SIGTERM');
  }, LOOK_MS);
  looking.unref();
}
