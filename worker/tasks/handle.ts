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
  claimTask,
  finishTask,
  handBackTask,
  LeaseLost,
  tellQuoted,
  type Finish,
  type Task,
} from '../../db/tasks.ts';
import type { Progress } from '../engine/model/control.ts';
import type { Worked } from '../threads/messages.ts';
import type { Meter } from '../metrics/meter.ts';
import type { Ended, Pool, Running } from '../threads/pool.ts';
import type { Handle, Wake } from '../wake/wake.ts';
import { loadTask, type Loaded } from './load.ts';
import { withoutBeside } from './withoutBeside.ts';
import { GAVE_UP, MOST_ATTEMPTS, notUsable, problemOf, stoppedBy } from './problems.ts';

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

/** Works a task from claim to finish, once, whoever else was woken for it. */
export function taskHandler(deps: HandleDeps): Handle {
  return async (id) => {
    let log = deps.log.child({ task: id });
    try {
      const claim = await claimTask(deps.database, { id, token: deps.newId(), leaseMs: deps.leaseMs });
      if (claim.outcome === 'nothingToDo') return { outcome: 'over' };
      if (claim.outcome === 'leased') return { outcome: 'later', inMs: claim.forMs + 50 };
      log = log.child({ attempt: claim.task.attempts });
      await workTask({ ...deps, log }, claim.task, claim.token);
      return { outcome: 'over' };
    } catch (error) {
      // The lease was lost: whoever has it now finishes the task. Anything else is tried again when the lease runs out.
      if (error instanceof LeaseLost) log.info('the lease was lost; another worker has the task');
      else
        log.error(
          { err: { name: error instanceof Error ? error.name : 'unknown', sqlState: sqlState(error) } },
          'the task could not be finished',
        );
      return { outcome: 'later', inMs: deps.leaseMs };
    }
  };
}

async function workTask(given: HandleDeps, task: Task, token: string): Promise<void> {
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
  if (task.attempts > MOST_ATTEMPTS) return finishFailed('Given up.', GAVE_UP);
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
      await handBack(deps, token, task.id);
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
    case 'checked':
    case 'printed':
    case 'notValid':
    case 'failed':
    case 'died':
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

async function handBack(deps: HandleDeps, token: string, id: string): Promise<void> {
  const wakeNumber = await handBackTask(deps.database, { token });
  if (wakeNumber === undefined) throw new LeaseLost();
  deps.log.info('handed back unfinished');
  await deps.wake.wake({ id, wakeNumber }).catch(() => undefined);
}
