import type { Logger } from 'pino';
import type { Database } from '../../db/connect.ts';
import { revokedOf } from '../../db/keys.ts';
import { readTasks, type Task } from '../../db/tasks.ts';
import { HttpProblem } from './problem.ts';

/** Whose stream it is, and which task it follows. */
interface Followed {
  task: string;
  /** The id of the key that opened it. */
  key: string;
  club: string;
  /** The member whose key it is. */
  member?: string | undefined;
}

/** One open event stream. */
export interface Follower {
  /**
   * From now on `onTask` hears of the task whenever it has moved on, and `onEnd` once when the server ends the stream: it
   * stops, or the key was revoked.
   */
  listen(onTask: (task: Task) => void, onEnd: () => void): void;
  /** Forgets the stream. */
  stop(): void;
}

export interface Watch {
  /** Opens a stream. Problem: 429 where the key or the club has too many open. */
  follow(followed: Followed): Follower;
  /** How many streams are open. */
  open(): number;
  /** Ends every stream. */
  close(): void;
}

/** A person watches a few tasks, a program all that it asked for. */
const MOST_OF_KEY = 100;
const MOST_OF_CLUB = 300;

/** A revoked key's streams end within this time and a round. */
const KEYS_EVERY_MS = 1_000;

const ENDED = ['done', 'failed', 'cancelled'] as const;

export function hasEnded(task: Pick<Task, 'state'>): boolean {
  return (ENDED as readonly string[]).includes(task.state);
}

interface Stream extends Followed {
  seen: number | undefined;
  onTask: (task: Task) => void;
  onEnd: () => void;
}

/** One poller a process feeds all event streams: one query a round, however many watch. */
export function watchTasks(database: Database, log: Logger, everyMs = 250): Watch {
  const streams = new Set<Stream>();
  let closed = false;
  let timer: NodeJS.Timeout | undefined;
  let polling = false;
  let keysSeen = performance.now();

  const distinct = (field: 'task' | 'key') => [...new Set([...streams].map((stream) => stream[field]))];

  async function tellTasks(): Promise<void> {
    const tasks = new Map((await readTasks(database, distinct('task'))).map((task) => [task.id, task]));
    for (const stream of [...streams]) {
      const task = tasks.get(stream.task);
      if (!task) continue;
      // Its owner hid the quote meanwhile.
      if (task.private && task.ownerId !== stream.member) {
        end(stream);
        continue;
      }
      if (stream.seen === task.progressNumber) continue;
      stream.seen = task.progressNumber;
      stream.onTask(task);
    }
  }

  async function endRevoked(): Promise<void> {
    if (performance.now() - keysSeen < KEYS_EVERY_MS) return;
    const revoked = new Set(await revokedOf(database, distinct('key')));
    keysSeen = performance.now();
    for (const stream of [...streams]) if (revoked.has(stream.key)) end(stream);
  }

  function end(stream: Stream): void {
    streams.delete(stream);
    stream.onEnd();
  }

  async function poll(): Promise<void> {
    polling = true;
    try {
      await endRevoked();
      await tellTasks();
    } catch (error) {
      log.warn(
        { err: { name: error instanceof Error ? error.name : 'unknown' } },
        'task progress could not be read',
      );
    }
    polling = false;
    schedule();
  }

  function schedule(): void {
    if (streams.size === 0 || timer !== undefined || polling || closed) return;
    timer = setTimeout(() => {
      timer = undefined;
      if (streams.size > 0) void poll();
    }, everyMs);
  }

  function requireRoom({ key, club }: Followed): void {
    const open = [...streams];
    const ofKey = open.filter((stream) => stream.key === key).length;
    const ofClub = open.filter((stream) => stream.club === club).length;
    if (ofKey < MOST_OF_KEY && ofClub < MOST_OF_CLUB) return;
    throw new HttpProblem(
      'too-many',
      `At most ${MOST_OF_KEY} event streams of one key and ${MOST_OF_CLUB} of one club can be open at once. Close some, or read the tasks without a stream: GET /v1/tasks/{id}.`,
      { headers: { 'retry-after': '10' } },
    );
  }

  return {
    follow(followed) {
      if (closed)
        throw new HttpProblem('not-ready', 'The server is stopping. Try again when it has restarted.', {
          headers: { 'retry-after': '5' },
        });
      requireRoom(followed);
      const stream: Stream = {
        ...followed,
        seen: undefined,
        onTask: () => undefined,
        onEnd: () => undefined,
      };
      streams.add(stream);
      schedule();
      return {
        listen: (onTask, onEnd) => Object.assign(stream, { onTask, onEnd }),
        stop: () => void streams.delete(stream),
      };
    },
    open: () => streams.size,
    close() {
      closed = true;
      clearTimeout(timer);
      for (const stream of [...streams]) end(stream);
    },
  };
}
