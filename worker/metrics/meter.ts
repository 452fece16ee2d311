import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { Database } from '../../db/connect.ts';
import { waitingTasks } from '../../db/waiting.ts';
import type { Pool } from '../threads/pool.ts';
import { notAnswering, type Parts } from '../wake/ready.ts';

/** What a process counts and times. No label takes a value that a club chooses, so that there are never many. */
export interface Meter {
  answered(request: { route: string; method: string; status: number; seconds: number }): void;
  taskEnded(task: { kind: string; outcome: string; seconds: number }): void;
  /** The same pool, whose threads are counted and whose work is timed. */
  pool(name: string, size: number, pool: Pool): Pool;
  /** All of it in Prometheus' text format, and the type of that. */
  text(): Promise<string>;
  readonly type: string;
}

const METHODS = new Set(['GET', 'HEAD', 'POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH']);
const REQUEST_SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30];
const WORK_SECONDS = [0.1, 0.5, 1, 2.5, 5, 10, 30, 60, 120, 300, 900];

/** The meter of one process: its registry is its own. */
export function createMeter(database: Database, parts: Parts): Meter {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const requests = new Histogram({
    name: 'loomwright_http_request_seconds',
    help: 'Requests that were answered, and how long each took.',
    labelNames: ['route', 'method', 'status'],
    buckets: REQUEST_SECONDS,
    registers,
  });
  const tasks = new Histogram({
    name: 'loomwright_task_seconds',
    help: 'Tasks that this process ended or handed back, and how long it worked at each.',
    labelNames: ['kind', 'outcome'],
    buckets: WORK_SECONDS,
    registers,
  });
  const work = new Histogram({
    name: 'loomwright_thread_seconds',
    help: 'Work in threads: price and winningPrice are the solver, check and print are not.',
    labelNames: ['kind', 'outcome'],
    buckets: WORK_SECONDS,
    registers,
  });
  const pools = new Map<string, { size: number; busy: number }>();
  new Gauge({
    name: 'loomwright_threads',
    help: 'Threads by pool, busy and idle.',
    labelNames: ['pool', 'state'],
    registers,
    collect() {
      for (const [pool, { size, busy }] of pools) {
        this.set({ pool, state: 'busy' }, busy);
        this.set({ pool, state: 'idle' }, Math.max(0, size - busy));
      }
    },
  });
  new Gauge({
    name: 'loomwright_up',
    help: 'Whether a part that this process needs answers: 1 or 0.',
    labelNames: ['part'],
    registers,
    async collect() {
      const down = await notAnswering(parts);
      for (const part of Object.keys(parts)) this.set({ part }, down.includes(part) ? 0 : 1);
    },
  });
  const oldest = new Gauge({
    name: 'loomwright_oldest_waiting_task_seconds',
    help: 'How long the oldest task that waits for a worker has waited; 0 where none waits.',
    registers,
  });
  const waiting = new Gauge({
    name: 'loomwright_tasks_waiting',
    help: 'Tasks of all clubs that wait for a worker.',
    registers,
  });

  return {
    answered: ({ route, method, status, seconds }) =>
      requests.observe(
        {
          route,
          method: METHODS.has(method) ? method : 'other',
          status: `${Math.floor(status / 100)}xx`,
        },
        seconds,
      ),
    taskEnded: ({ kind, outcome, seconds }) => tasks.observe({ kind, outcome }, seconds),
    pool(name, size, pool) {
      const counts = { size, busy: 0 };
      pools.set(name, counts);
      return {
        ...pool,
        start: (job, onProgress, what = { kind: 'price' }, onQuoted) => {
          const began = performance.now();
          const running = pool.start(job, onProgress, what, onQuoted);
          counts.busy++;
          void running.ended.then(({ how }) => {
            counts.busy--;
            work.observe({ kind: what.kind, outcome: how }, (performance.now() - began) / 1000);
          });
          return running;
        },
      };
    },
    async text() {
      // A database that is away is told by loomwright_up; all the rest is told all the same.
      const now = await waitingTasks(database).catch(() => ({ count: NaN, oldestSeconds: NaN }));
      waiting.set(now.count);
      oldest.set(now.oldestSeconds);
      return registry.metrics();
    },
    type: registry.contentType,
  };
}
