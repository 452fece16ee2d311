import { z } from 'zod';
import { QUEUE_PER_CLUB } from '../db/tasks.ts';
import { Currency } from './engine/model/money.ts';
import { THREAD_MB } from './threads/pool.ts';

/** What a process is told by its environment. Each field says which variable it is read from. */
const Environment = z
  .object({
    LOOMWRIGHT_DATA: z.string().min(1).default('./data'),
    DATABASE_URL: z
      .string()
      .regex(/^postgres(ql)?:\/\//, 'must start with postgres://')
      .optional(),
    REDIS_URL: z
      .string()
      .regex(/^rediss?:\/\//, 'must start with redis://')
      .optional(),
    HOST: z.string().min(1).default('127.0.0.1'),
    PORT: z.coerce.number().int().min(0).max(65_535).default(8080),
    LOG_LEVEL: z.enum(['silent', 'error', 'warn', 'info', 'debug']).default('info'),
    LOOMWRIGHT_CLUB: z.string().trim().min(1).max(200).default('My club'),
    LOOMWRIGHT_CURRENCY: Currency.default('GBP'),
    LOOMWRIGHT_BODY_BYTES: z.coerce
      .number()
      .int()
      .min(1024)
      .max(1024 ** 3)
      .default(16 * 1024 ** 2),
    LOOMWRIGHT_ARCHIVE_BYTES: z.coerce
      .number()
      .int()
      .min(1024)
      .max(1024 ** 4)
      .default(256 * 1024 ** 2),
    LOOMWRIGHT_THREADS: z.coerce.number().int().min(1).max(64).default(1),
    LOOMWRIGHT_THREAD_MB: z.coerce.number().int().min(256).max(65_536).default(THREAD_MB),
    LOOMWRIGHT_QUEUE_PER_CLUB: z.coerce.number().int().min(1).max(100_000).default(QUEUE_PER_CLUB),
    LOOMWRIGHT_LEASE_SECONDS: z.coerce.number().min(1).max(600).default(5),
    LOOMWRIGHT_STOP_SECONDS: z.coerce.number().min(0).max(600).default(5),
    LOOMWRIGHT_QUEUE: z
      .string()
      .regex(/^[A-Za-z0-9_-]{1,50}$/, 'must have only letters, digits, dash and underscore')
      .default('loomwright'),
  })
  .superRefine((env, issues) => {
    if (env.DATABASE_URL !== undefined && env.REDIS_URL === undefined)
      issues.addIssue({
        code: 'custom',
        path: ['REDIS_URL'],
        message: 'is needed together with DATABASE_URL; leave both out to run embedded',
      });
    if (env.REDIS_URL !== undefined && env.DATABASE_URL === undefined)
      issues.addIssue({
        code: 'custom',
        path: ['DATABASE_URL'],
        message: 'is needed together with REDIS_URL; leave both out to run embedded',
      });
  });

export interface Config {
  /** Where the data is: a folder of this process, or servers that many processes share. */
  store:
    | { mode: 'embedded'; folder: string }
    | { mode: 'service'; databaseUrl: string; redisUrl: string; queue: string };
  host: string;
  port: number;
  logLevel: string;
  firstClub: { name: string; currency: string };
  bodyBytes: number;
  archiveBytes: number;
  threads: number;
  threadMb: number;
  queuePerClub: number;
  leaseMs: number;
  stopMs: number;
}

/** The environment says something that cannot be used. */
export class ConfigError extends Error {}

/** Reads the environment. Throws ConfigError with a line for every variable at fault; empty variables count as not set. */
export function readConfig(env: Record<string, string | undefined>): Config {
  const set = Object.fromEntries(
    Object.entries(env).filter(([, value]) => value !== undefined && value !== ''),
  );
  const parsed = Environment.safeParse(set);
  if (!parsed.success)
    throw new ConfigError(
      parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('\n'),
    );
  const e = parsed.data;
  return {
    store:
      e.DATABASE_URL !== undefined && e.REDIS_URL !== undefined
        ? { mode: 'service', databaseUrl: e.DATABASE_URL, redisUrl: e.REDIS_URL, queue: e.LOOMWRIGHT_QUEUE }
        : { mode: 'embedded', folder: e.LOOMWRIGHT_DATA },
    host: e.HOST,
    port: e.PORT,
    logLevel: e.LOG_LEVEL,
    firstClub: { name: e.LOOMWRIGHT_CLUB, currency: e.LOOMWRIGHT_CURRENCY },
    bodyBytes: e.LOOMWRIGHT_BODY_BYTES,
    archiveBytes: e.LOOMWRIGHT_ARCHIVE_BYTES,
    threads: e.LOOMWRIGHT_THREADS,
    threadMb: e.LOOMWRIGHT_THREAD_MB,
    queuePerClub: e.LOOMWRIGHT_QUEUE_PER_CLUB,
    leaseMs: Math.round(e.LOOMWRIGHT_LEASE_SECONDS * 1000),
    stopMs: Math.round(e.LOOMWRIGHT_STOP_SECONDS * 1000),
  };
}
