import {
  boolean,
  date,
  doublePrecision,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core';
import type { Progress } from '../../worker/engine/model/control.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { QuoteRequest } from '../../worker/engine/model/job.ts';
import { at, clubId, code, owned } from './columns.ts';

export const TASK_STATES = ['queued', 'running', 'done', 'failed', 'cancelled'] as const;
export type TaskState = (typeof TASK_STATES)[number];

export const TASK_KINDS = ['quote', 'winningPrice'] as const;
export type TaskKind = (typeof TASK_KINDS)[number];

/** Why a task failed: what a problem document is made of at the edge. */
export interface TaskProblem {
  code: string;
  title: string;
  detail: string;
  findings?: Finding[];
}

export const tasks = pgTable(
  'tasks',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    kind: text('kind').$type<TaskKind>().notNull(),
    /** The quote. */
    subject: uuid('subject').notNull(),
    offerCode: code('offer_code'),
    state: text('state').$type<TaskState>().notNull(),
    leaseToken: uuid('lease_token'),
    leaseUntil: at('lease_until'),
    attempts: integer('attempts').notNull().default(0),
    /** How often its lease ran out: its worker's process ended, froze or lost the database. */
    lost: integer('lost').notNull().default(0),
    /** How often its thread ended by itself while its worker had nothing else in hand. */
    crashed: integer('crashed').notNull().default(0),
    /** A worker takes it only while it has nothing else in hand. */
    alone: boolean('alone').notNull().default(false),
    wakeNumber: integer('wake_number').notNull().default(1),
    wokenAt: at('woken_at').notNull(),
    cancelAsked: boolean('cancel_asked').notNull().default(false),
    progressNumber: integer('progress_number').notNull().default(1),
    progress: jsonb('progress').$type<Progress>().notNull(),
    problem: jsonb('problem').$type<TaskProblem>(),
    createdAt: at('created_at').notNull(),
    startedAt: at('started_at'),
    finishedAt: at('finished_at'),
    workSeconds: doublePrecision('work_seconds'),
    ...owned(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

/** A request as it was taken in: all that was asked, and every loom with the revision that it was pinned to. */
export type PinnedRequest = Omit<QuoteRequest, 'asOf' | 'looms'> & {
  looms: (QuoteRequest['looms'][number] & { revision: number })[];
};

export const quotes = pgTable(
  'quotes',
  {
    clubId: clubId(),
    id: uuid('id').notNull(),
    taskId: uuid('task_id').notNull(),
    asOf: date('as_of', { mode: 'string' }).notNull(),
    request: jsonb('request').$type<PinnedRequest>().notNull(),
    /** The quote of whose looms it buys what is still missing. */
    restOf: uuid('rest_of'),
    keepUntil: date('keep_until', { mode: 'string' }),
    job: text('job'),
    jobHash: text('job_hash'),
    result: text('result'),
    ...owned(),
    createdAt: at('created_at').notNull(),
    createdBy: text('created_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.id] })],
);

export const quoteLooms = pgTable(
  'quote_looms',
  {
    clubId: clubId(),
    quoteId: uuid('quote_id').notNull(),
    loomCode: code('loom_code').notNull(),
    revision: integer('revision').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.quoteId, t.loomCode] })],
);

export const quoteOffers = pgTable(
  'quote_offers',
  { clubId: clubId(), quoteId: uuid('quote_id').notNull(), offerCode: code('offer_code').notNull() },
  (t) => [primaryKey({ columns: [t.clubId, t.quoteId, t.offerCode] })],
);

export const winningPrices = pgTable(
  'winning_prices',
  {
    clubId: clubId(),
    quoteId: uuid('quote_id').notNull(),
    offerCode: code('offer_code').notNull(),
    taskId: uuid('task_id').notNull(),
    answer: text('answer'),
    createdAt: at('created_at').notNull(),
    createdBy: text('created_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.clubId, t.quoteId, t.offerCode] })],
);
