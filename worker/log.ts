import { pino, type Logger } from 'pino';

/** JSON lines on standard output. Bodies and secrets are never handed to it. */
export function createLog(level: string, who: string): Logger {
  return pino({ level, base: { who, pid: process.pid } });
}
