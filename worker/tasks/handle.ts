import type { Logger } from 'pino';
import { askedBy } from '../../db/audit.ts';
import { asClub, type ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import { replaceResult, storedText, storeResult } from '../../db/quotes.ts';
import { storeWinningPrice } from '../../db/winningPrices.ts';
import type { TaskProblem } from '../../db/schema/index.ts';
import { sqlState } from '../../db/errors.ts';
import {
  beatTask,
  CancelWanted,
  finishTask,
  LeaseLost,
  tellQuoted,
  type Finish,
  type Task,
} from '../../db/tasks.ts';
import { claimNext, giveBack, type GivenBack } from '../../db/turns.ts';
import type { Progress } from '../engine/model/control.ts';
import type { Worked } from '../threads/messages.ts';
import type { Meter } from '../metrics/meter.ts';
import type { Ended, Pool, Running } from '../threads/pool.ts';
import type { Wake } from '../wake/wake.ts';
import { handsOf } from './hands.ts';
import { loadTask, type Loaded } from './load.ts';
import { withoutBeside } from './withoutBeside.ts';
import {
  diedOf,
  FAILED_AGAIN,
  GAVE_UP,
  isOfTask,
  MOST_CRASHES,
  MOST_LOST,
  notUsable,
  problemOf,
  stoppedBy,
} from './problems.ts';

export interface HandleDeps {
  database: Database;
  pool: Pool;
  wake: Wake;
  log: Logger;
  meter?: Pick<Meter, 'taskEnded'> | undefined;
  now: () => Date;
  newId: () => string;
  leaseMs: number;
  /** Aborted when the worker has to let go of what it has in hand. */
  letGo: AbortSignal;
}

/** How often a task in hand looks for a wish to cancel, and writes its progress where there is news. */
const BEAT_MS = 200;

/**
 * What came of asking for work. `busy`: no hand is free, or the next task is one that is worked alone. `trouble`: something
 * beside the task failed, or the task was lost to another worker; it is better to wait than to ask again at once.
 */
export type Taken = 'worked' | 'nothing' | 'busy' | 'trouble';

/**
 * The way to have the next task worked, from claim to finish, once, whoever else asks. `hands`: how many tasks are worked at
 * once.
 */
export function taskHandler(deps: HandleDeps, hands = 1): () => Promise<Taken> {
  const crew = handsOf(hands);
  return async () => {
    const { database, leaseMs } = deps;
    const taken = await crew
      .take((free) => claimNext(database, { token: deps.newId(), leaseMs, free }))
      .catch((error: unknown) => {
        deps.log.error({ err: named(error) }, 'no task could be asked for');
        return 'trouble' as const;
      });
    if (typeof taken === 'string') return taken;
    const { task, token, hand } = taken;
    const log = deps.log.child({ task: task.id, attempt: task.attempts });
    try {
      await workTask({ ...deps, log }, { task, token, wasAlone: () => hand.wasAlone() });
      return 'worked';
    } catch (error) {
      // The lease was lost: whoever has it now finishes the task.
      if (error instanceof LeaseLost) log.info('the lease was lost; another worker has the task');
      else {
        log.error({ err: named(error) }, 'the task could not be finished');
        await afterTrouble({ ...deps, log }, task, token, error);
      }
      return 'trouble';
    } finally {
      hand.letGo();
    }
  };
}

function named(error: unknown): { name: string; sqlState: string | undefined } {
  return { name: error instanceof Error ? error.name : 'unknown', sqlState: sqlState(error) };
}

/** Gives back a task that could not be finished. Where even this fails, its lease runs out and another takes it up. */
async function afterTrouble(deps: HandleDeps, task: Task, token: string, error: unknown): Promise<void> {
  const why = isOfTask(error) ? 'crashed' : 'trouble';
  await handBack(deps, token, task.id, why).catch(() => undefined);
}

/** A task in hand. */
interface Held {
  task: Task;
  token: string;
  /** Whether its worker has had nothing else in hand since it was claimed. */
  wasAlone: () => boolean;
}

async function workTask(given: HandleDeps, { task, token, wasAlone }: Held): Promise<void> {
  const started = performance.now();
  const { deps, ctx } = await traced(given, task);
  const finish = async (
    end: Omit<Finish, 'token' | 'workSeconds'>,
    store?: Extract<Ended, { how: 'done' | 'answered' }>,
  ) => {
    const workSeconds = (performance.now() - started) / 1000;
    await asClub(deps.database, ctx, async (ctx) => {
      if (store?.how === 'done') await storeResult({ ctx, input: { id: task.subject, ...store.worked } });
      if (store?.how === 'answered')
        await storeWinningPrice({ ctx, input: { task: task.id, answer: store.answer } });
      await finishTask({ ctx, input: { ...end, token, workSeconds } });
    });
    deps.log.info({ state: end.state, seconds: workSeconds }, 'the task has ended');
    deps.meter?.taskEnded({ kind: task.kind, outcome: end.state, seconds: workSeconds });
  };

  /** Of a quote that is there the task ends as done, without what lies beside it. Whether it is. */
  const finishQuoted = async (why: 'cancelled' | 'failed'): Promise<boolean> => {
    if (task.kind !== 'quote') return false;
    const id = task.subject;
    const isThere = await asClub(deps.database, ctx, async (ctx) => {
      const text = await storedText({ ctx, input: { id, which: 'result' } });
      if (text === undefined) return false;
      await replaceResult({ ctx, input: { id, result: withoutBeside(text, why) } });
      const workSeconds = (performance.now() - started) / 1000;
      const message = `Done, without what is worked out after the quote: ${why}.`;
      await finishTask({ ctx, input: { token, state: 'done', message, workSeconds, evenIfCancelled: true } });
      return true;
    });
    if (!isThere) return false;
    deps.log.info({ state: 'done', beside: why }, 'the task has ended with the quote alone');
    const seconds = (performance.now() - started) / 1000;
    deps.meter?.taskEnded({ kind: task.kind, outcome: 'done', seconds });
    return true;
  };
  const finishCancelled = async () => {
    if (!(await finishQuoted('cancelled'))) await finish({ state: 'cancelled', message: 'Cancelled.' });
  };
  const finishFailed = async (message: string, problem: TaskProblem) => {
    if (!(await finishQuoted('failed'))) await finish({ state: 'failed', message, problem });
  };
  const storeQuoted = (worked: Worked) =>
    asClub(deps.database, ctx, async (ctx) => {
      await tellQuoted({ ctx, input: { token, leaseMs: deps.leaseMs } });
      await storeResult({ ctx, input: { id: task.subject, ...worked } });
    });

  if (task.cancelAsked) return finishCancelled();
  if (task.lost > MOST_LOST) return finishFailed('Given up.', GAVE_UP);
  if (task.crashed >= MOST_CRASHES) return finishFailed('Given up.', FAILED_AGAIN);
  const ended = await holdWhile(deps, token, () => loadTask(deps.database, ctx, task), storeQuoted);
  switch (ended.how) {
    case 'done':
    case 'answered':
      return finish({ state: 'done', message: 'Done.' }, ended).catch((error: unknown) => {
        if (!(error instanceof CancelWanted)) throw error;
        return finishCancelled();
      });
    case 'cancelled':
      return finishCancelled();
    case 'letGo':
      await handBack(deps, token, task.id, 'stopping');
      return deps.meter?.taskEnded({
        kind: task.kind,
        outcome: 'handedBack',
        seconds: (performance.now() - started) / 1000,
      });
    case 'leaseLost':
      throw new LeaseLost();
    case 'stopped':
      deps.log.info({ findings: ended.count }, 'findings stop the quote');
      return finishFailed('Stopped by faults.', stoppedBy(ended));
    case 'notUsable':
      return finishFailed('The offer cannot be bought.', notUsable(ended.findings));
    case 'died':
      deps.log.error({ ended, alone: wasAlone() }, 'the thread of the task ended by itself');
      if (!wasAlone()) return handBack(deps, token, task.id, 'crowded');
      if (task.crashed + 1 < MOST_CRASHES) return handBack(deps, token, task.id, 'crashed');
      return finishFailed('Failed.', diedOf(ended));
    case 'checked':
    case 'printed':
    case 'notValid':
    case 'failed':
      deps.log.error({ ended }, 'the job gave no result');
      return finishFailed('Failed.', problemOf(ended));
  }
}

/** Has the lines of a task say which request asked for it, of which club and with which key. */
async function traced(deps: HandleDeps, task: Task): Promise<{ deps: HandleDeps; ctx: ClubCtx }> {
  const { clubId: club, id } = task;
  const own: ClubCtx = {
    club,
    actor: 'worker',
    whole: true,
    role: 'admin',
    requestId: `task:${id}`,
    now: deps.now,
    newId: deps.newId,
  };
  const asked = await asClub(deps.database, own, (ctx) => askedBy({ ctx, input: task }));
  const log = deps.log.child({ club, kind: task.kind, ...asked });
  log.info('a task is worked');
  return { deps: { ...deps, log }, ctx: { ...own, ...(asked ? { requestId: asked.requestId } : {}) } };
}

type HowHeld = Ended | { how: 'letGo' } | { how: 'leaseLost' };

/**
 * Loads the job and has it worked, and keeps the lease meanwhile: renews it, writes progress, hears of wishes to cancel
 * and of the order to let go. A quote that is there before what lies beside it is stored at once.
 */
async function holdWhile(
  deps: HandleDeps,
  token: string,
  load: () => Promise<Loaded>,
  storeQuoted: (worked: Worked) => Promise<void>,
): Promise<HowHeld> {
  let news: Progress | undefined;
  let storing: Promise<void> | undefined;
  let running: Running | undefined;
  let stoppedFor: HowHeld | undefined;
  const stop = (how: HowHeld) => {
    stoppedFor ??= how;
    running?.cancel();
  };
  const letGo = () => stop({ how: 'letGo' });
  if (deps.letGo.aborted) letGo();
  deps.letGo.addEventListener('abort', letGo, { once: true });

  async function work(): Promise<HowHeld> {
    const { job, what } = await load();
    if (stoppedFor) return stoppedFor;
    running = deps.pool.start(
      job,
      (progress) => (news = progress),
      what,
      (worked) => {
        const own = (storing ?? Promise.resolve())
          .then(() => keep(worked))
          .finally(() => {
            if (storing === own) storing = undefined;
          });
        storing = own;
      },
    );
    const ended = await running.ended;
    await storing;
    // A thread that was told to stop may have been ended before it could say so.
    return ended.how === 'cancelled' || ended.how === 'died' ? (stoppedFor ?? ended) : ended;
  }

  async function keep(worked: Worked): Promise<void> {
    try {
      await storeQuoted(worked);
    } catch (error) {
      if (error instanceof LeaseLost) return stop({ how: 'leaseLost' });
      // The whole result comes all the same.
      deps.log.warn(
        { err: { name: error instanceof Error ? error.name : 'unknown' } },
        'the quote is not kept yet',
      );
    }
  }

  async function beats(until: Promise<unknown>): Promise<void> {
    let over = false;
    const ended = until.then(
      () => (over = true),
      () => (over = true),
    );
    let renewed = performance.now();
    while (!over) {
      await Promise.race([ended, pause(BEAT_MS)]);
      if (over) return;
      // What lies beside is told of once the quote can be read.
      const progress = storing ? undefined : news;
      if (progress) news = undefined;
      try {
        const beat = await beatTask(deps.database, { token, leaseMs: deps.leaseMs, progress });
        renewed = performance.now();
        if (!beat.held) stop({ how: 'leaseLost' });
        else if (beat.cancelAsked) stop({ how: 'cancelled' });
      } catch {
        // A database that is away for a moment costs a beat; away for a whole lease, it costs the work.
        if (performance.now() - renewed > deps.leaseMs) stop({ how: 'leaseLost' });
      }
    }
  }

  const worked = work();
  try {
    await beats(worked);
    return await worked;
  } finally {
    deps.letGo.removeEventListener('abort', letGo);
  }
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

async function handBack(deps: HandleDeps, token: string, id: string, why: GivenBack): Promise<void> {
  const wakeNumber = await giveBack(deps.database, { token, why });
  if (wakeNumber === undefined) throw new LeaseLost();
  deps.log.info({ why }, 'handed back unfinished');
  await deps.wake.wake({ id, wakeNumber }).catch(() => undefined);
}
