import { Worker } from 'node:worker_threads';
import { unforeseenNamed } from '../places.ts';
import { HttpProblem } from '../problem.ts';
import { turnsOf } from '../turns.ts';
import type { HasRead, ToRead } from './messages.ts';

/** Reads large bodies in threads, with turns among clubs. */
export interface Bodies {
  /** Bodies of more bytes are large. */
  readonly largeBytes: number;
  /**
   * A place for a large body of a club, from its first bytes until what is given back is called. Problem: 429 where the club
   * has as many in hand as it may, or all clubs together.
   */
  place(club: string): () => void;
  /** Problems: 413 where it needs too much memory, 503 where it takes too long or the server stops. */
  read(club: string, body: ToRead): Promise<HasRead>;
  /** Ends what is in hand. */
  close(): Promise<void>;
}

interface Options {
  /** Of one body. */
  maxBytes: number;
  largeBytes?: number;
  /** Threads. */
  atOnce?: number;
  withinMs?: number;
  entry?: URL;
}

/** Smaller ones are read in a few milliseconds wherever they come. */
const LARGE_BYTES = 32 * 1024;
/** Large bodies in hand: held in memory, waiting for a thread or read. */
const OF_A_CLUB = 4;
const OF_ALL = 32;
/** A thread that has nothing to do for so long is ended: what it took of memory is free again. */
const IDLE_MS = 60_000;
/** What a body of the largest size that is all small things grows to when it is read. */
const GROWS = 40;
const MIB = 1024 ** 2;
const LEAST_MIB = 256;

// From source a thread starts by way of tsx; built, the thread is JavaScript already.
const ENTRY = import.meta.url.endsWith('.ts')
  ? new URL('./tsx-entry.mjs', import.meta.url)
  : new URL('./thread.js', import.meta.url);

export function bodyReader({
  maxBytes,
  largeBytes = LARGE_BYTES,
  atOnce = 2,
  withinMs = 30_000,
  entry = ENTRY,
}: Options): Bodies {
  const turns = turnsOf(atOnce, withinMs, OF_A_CLUB);
  const taken = new Map<string, number>();
  const idle = new Map<Worker, NodeJS.Timeout>();
  const ends = new Set<(end: HttpProblem) => void>();
  let all = 0;
  let closed = false;

  function start(): Worker {
    const [kept] = idle;
    if (kept) {
      clearTimeout(kept[1]);
      idle.delete(kept[0]);
      unheard(kept[0]);
      kept[0].ref();
      return kept[0];
    }
    const maxOldGenerationSizeMb = LEAST_MIB + Math.ceil((maxBytes * GROWS) / MIB);
    return new Worker(entry, { resourceLimits: { maxOldGenerationSizeMb } });
  }

  function giveBack(thread: Worker, usable: boolean): void {
    unheard(thread);
    thread.on('error', () => undefined);
    if (!usable || closed || idle.size > 0) {
      void thread.terminate();
      return;
    }
    thread.unref();
    const end = setTimeout(() => {
      idle.delete(thread);
      void thread.terminate();
    }, IDLE_MS).unref();
    idle.set(thread, end);
    thread.once('exit', () => {
      clearTimeout(end);
      idle.delete(thread);
    });
  }

  function inThread(body: ToRead): Promise<HasRead> {
    if (closed) return Promise.reject(stopping());
    const thread = start();
    return new Promise<HasRead>((resolve, reject) => {
      let over = false;
      const settle = (usable: boolean, tell: () => void) => {
        if (over) return;
        over = true;
        clearTimeout(timer);
        ends.delete(end);
        giveBack(thread, usable);
        tell();
      };
      const end = (problem: HttpProblem) => settle(false, () => reject(problem));
      const timer = setTimeout(() => end(tooLong(withinMs)), withinMs);
      ends.add(end);
      thread.on('message', (said: HasRead) => settle(true, () => resolve(said)));
      thread.on('error', (error: NodeJS.ErrnoException) =>
        settle(false, () =>
          reject(
            error.code === 'ERR_WORKER_OUT_OF_MEMORY'
              ? needsTooMuch()
              : unforeseenNamed('reading of a body', error.name),
          ),
        ),
      );
      thread.on('exit', () => settle(false, () => reject(unforeseenNamed('reading of a body', 'exit'))));
      thread.postMessage(body);
    });
  }

  return {
    largeBytes,
    place(club) {
      const own = taken.get(club) ?? 0;
      if (own >= OF_A_CLUB || all >= OF_ALL)
        throw new HttpProblem(
          'too-many',
          own >= OF_A_CLUB
            ? `${OF_A_CLUB} large bodies of this club are being read. Send this one when one of them is answered.`
            : 'Too many large bodies are being read at once. Try again in a few seconds.',
          { headers: { 'retry-after': '2' } },
        );
      taken.set(club, own + 1);
      all++;
      let isHeld = true;
      return () => {
        if (!isHeld) return;
        isHeld = false;
        all--;
        const left = (taken.get(club) ?? 1) - 1;
        if (left === 0) taken.delete(club);
        else taken.set(club, left);
      };
    },
    async read(club, body) {
      const free = await turns.take(club);
      if (!free) throw tooLong(withinMs);
      try {
        return await inThread(body);
      } finally {
        free();
      }
    },
    async close() {
      closed = true;
      turns.close();
      for (const end of ends) end(stopping());
      const threads = [...idle.keys()];
      idle.clear();
      await Promise.all(threads.map((thread) => thread.terminate()));
    },
  };
}

/** Takes our own listeners off a thread: without its own, it would hand nothing on any more. */
function unheard(thread: Worker): void {
  for (const event of ['message', 'error', 'exit']) thread.removeAllListeners(event);
}

const stopping = () =>
  new HttpProblem('not-ready', 'The server is stopping. Try again when it has restarted.', {
    headers: { 'retry-after': '5' },
  });

const tooLong = (withinMs: number) =>
  new HttpProblem(
    'out-of-time',
    `The body was not read within ${withinMs / 1000} s, and nothing was stored. Send less at a time.`,
    { headers: { 'retry-after': '10' } },
  );

const needsTooMuch = () =>
  new HttpProblem(
    'too-large',
    'This body needs more memory to check than there is for one body. Send less at a time.',
  );
