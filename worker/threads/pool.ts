import { Worker } from 'node:worker_threads';
import type { Progress } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { Said, What, Work, Worked } from './messages.ts';

/**
 * How a piece of work ended. `checked`, `answered`: with the text of a Checks or WinningPrice document. `printed`: sheets as PDF. `stopped`: findings
 * keep the quote from being made; of many only the first are told. `notUsable`: the offer asked about cannot be bought.
 * `died`: the thread ended by itself, as when it needed more memory than `memoryMb`.
 */
export type Ended =
  | { how: 'done'; worked: Worked }
  | { how: 'checked'; checks: string }
  | { how: 'answered'; answer: string }
  | { how: 'printed'; pdf: Uint8Array<ArrayBuffer> }
  | { how: 'notUsable'; findings: Finding[] }
  | { how: 'stopped'; findings: Finding[]; count: number }
  | { how: 'cancelled' }
  | { how: 'notValid'; findings: number; first: string }
  | { how: 'failed'; name: string; message: string }
  | { how: 'died'; code?: string; memoryMb: number };

/** A piece of work in hand. */
export interface Running {
  ended: Promise<Ended>;
  /** Asks the engine to stop, and ends its thread if it does not within half a second. */
  cancel(): void;
}

export interface Pool {
  /**
   * Starts work in a thread of its own; `onProgress` hears of it as it goes, `onQuoted` of a quote that is there before
   * what lies beside it. A job is priced where not said otherwise.
   */
  start(
    job: unknown,
    onProgress: (progress: Progress) => void,
    what?: What,
    onQuoted?: (worked: Worked) => void,
  ): Running;
  close(): Promise<void>;
}

/** The solver looks at its stop flag seconds apart at times; a thread is ended when it has not stopped by then. */
const PATIENCE_MS = 400;

// From source a thread starts by way of tsx; built, the thread is JavaScript already.
const ENTRY = import.meta.url.endsWith('.ts')
  ? new URL('./tsx-entry.mjs', import.meta.url)
  : new URL('./thread.js', import.meta.url);

interface ThreadOptions {
  entry?: URL;
  memoryMb?: number;
}

/** The memory of a thread where nothing else is said, MB: several times what the largest looms of the tests take. */
export const THREAD_MB = 2048;

/**
 * Threads for the engine, at most `size` idle ones kept warm. One piece of work has a thread to itself, and at most
 * `memoryMb` of memory for its objects: work that needs more ends its thread, and not the process. `entry` is what a thread
 * runs: it is given Work and answers with what it has Said.
 */
export function threadPool(size: number, { entry = ENTRY, memoryMb = THREAD_MB }: ThreadOptions = {}): Pool {
  const idle: Worker[] = [];
  const busy = new Set<Worker>();
  let closed = false;

  function take(): Worker {
    const thread = idle.pop() ?? new Worker(entry, { resourceLimits: { maxOldGenerationSizeMb: memoryMb } });
    busy.add(thread);
    return thread;
  }

  function giveBack(thread: Worker, usable: boolean): void {
    busy.delete(thread);
    thread.removeAllListeners();
    if (usable && !closed && idle.length < size) {
      thread.once('exit', () => idle.splice(0, idle.length, ...idle.filter((other) => other !== thread)));
      thread.on('error', () => undefined);
      thread.unref();
      idle.push(thread);
    } else {
      thread.on('error', () => undefined);
      void thread.terminate();
    }
  }

  function start(
    job: unknown,
    onProgress: (progress: Progress) => void,
    what: What = { kind: 'price' },
    onQuoted: (worked: Worked) => void = () => undefined,
  ): Running {
    const thread = take();
    thread.removeAllListeners();
    thread.ref();
    const stop = new SharedArrayBuffer(4);
    let timer: NodeJS.Timeout | undefined;
    let settle: (ended: Ended, usable: boolean) => void = () => undefined;

    const ended = new Promise<Ended>((resolve) => {
      let over = false;
      settle = (how, usable) => {
        if (over) return;
        over = true;
        clearTimeout(timer);
        giveBack(thread, usable);
        resolve(how);
      };
      thread.on('message', (said: Said) => {
        if (said.says === 'progress') onProgress(said.progress);
        else if (said.says === 'quoted') onQuoted(said.worked);
        else settle(endedOf(said), true);
      });
      thread.on('error', (error: NodeJS.ErrnoException) =>
        settle({ how: 'died', code: error.code ?? error.name, memoryMb }, false),
      );
      thread.on('exit', () => settle({ how: 'died', memoryMb }, false));
      thread.postMessage({ ...what, job, stop } satisfies Work);
    });

    return {
      ended,
      cancel: () => {
        Atomics.store(new Int32Array(stop), 0, 1);
        timer ??= setTimeout(() => settle({ how: 'cancelled' }, false), PATIENCE_MS);
      },
    };
  }

  return {
    start,
    close: async () => {
      closed = true;
      await Promise.all([...idle.splice(0), ...busy].map((thread) => thread.terminate()));
    },
  };
}

function endedOf(said: Exclude<Said, { says: 'progress' | 'quoted' }>): Ended {
  switch (said.says) {
    case 'done':
      return { how: 'done', worked: said.worked };
    case 'checked':
      return { how: 'checked', checks: said.checks };
    case 'answered':
      return { how: 'answered', answer: said.answer };
    case 'printed':
      return { how: 'printed', pdf: said.pdf };
    case 'notUsable':
      return { how: 'notUsable', findings: said.findings };
    case 'stopped':
      return { how: 'stopped', findings: said.findings, count: said.count };
    case 'cancelled':
      return { how: 'cancelled' };
    case 'notValid': {
      const first = said.findings[0];
      return {
        how: 'notValid',
        findings: said.findings.length,
        first: first ? `${first.at}: ${first.todo}` : '',
      };
    }
    case 'failed':
      return { how: 'failed', name: said.name, message: said.message };
  }
}
