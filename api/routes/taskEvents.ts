import type { Context } from 'hono';
import { streamSSE, type SSEStreamingApi } from 'hono/streaming';
import type { Task } from '../../db/tasks.ts';
import { presentTask } from './present.ts';
import type { Env } from '../http/deps.ts';
import { hasEnded, type Follower } from '../http/watch.ts';

const PING_MS = 15_000;

/**
 * A task's progress as server-sent events, from `task` on, without what the reader has already. It ends when the task ends,
 * the reader goes or the server ends it, and keeps nothing then.
 */
export function taskEvents(c: Context<Env>, follower: Follower, task: Task, have: number): Response {
  return streamSSE(c, (stream) => sendAll(stream, follower, task, have));
}

function sendAll(stream: SSEStreamingApi, follower: Follower, task: Task, have: number): Promise<void> {
  return new Promise<void>((resolve) => {
    let last = have;
    let newest: Task | undefined;
    let sending = false;
    let over = false;

    function end(): void {
      if (over) return;
      over = true;
      clearInterval(ping);
      follower.stop();
      resolve();
    }

    /** A reader that is slower than the task gets its newest state, not all that lay between. */
    async function send(): Promise<void> {
      if (sending) return;
      sending = true;
      while (newest && !over) {
        const now: Task = newest;
        newest = undefined;
        last = now.progressNumber;
        await stream.writeSSE({
          id: String(now.progressNumber),
          event: hasEnded(now) ? 'ended' : 'progress',
          data: JSON.stringify(presentTask(now)),
        });
        if (hasEnded(now)) end();
      }
      sending = false;
    }

    function onTask(now: Task): void {
      if (now.progressNumber <= last && !hasEnded(now)) return;
      newest = now;
      void send();
    }

    const ping = setInterval(() => {
      if (!sending) void stream.write(': still here\n\n');
    }, PING_MS);
    stream.onAbort(end);
    follower.listen(onTask, end);
    onTask(task);
  });
}
