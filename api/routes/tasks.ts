import { streamSSE } from 'hono/streaming';
import { z } from 'zod';
import { asClub } from '../../db/club.ts';
import { cancelTask, getTask, type Task } from '../../db/tasks.ts';
import { endpoint, streamEndpoint, type Endpoint, type StreamEndpoint } from '../http/endpoint.ts';
import { hasEnded } from '../http/watch.ts';
import { presentTask, TaskOut } from './present.ts';

const IdParam = z.strictObject({ id: z.uuid() });
const PING_MS = 15_000;

export const taskRoutes: (Endpoint | StreamEndpoint)[] = [
  endpoint({
    method: 'get',
    path: '/v1/tasks/{id}',
    tag: 'tasks',
    role: 'viewer',
    summary: 'Read a task: state, progress, seconds, and why it failed',
    params: IdParam,
    answers: { 200: { description: 'The task.', schema: TaskOut } },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: presentTask(await getTask({ ctx, input: params })),
    }),
  }),
  endpoint({
    method: 'post',
    path: '/v1/tasks/{id}/cancel',
    tag: 'tasks',
    role: 'member',
    summary: 'Cancel a task',
    description:
      'A waiting task ends at once, a running task within about a second; read its state to see. If its quote is already ready, the task ends as done, and the quote stays without close alternatives. 409 if the task has already ended.',
    params: IdParam,
    answers: { 202: { description: 'The task as it is now.', schema: TaskOut } },
    handle: async ({ ctx, params }) => ({
      status: 202,
      body: presentTask(await cancelTask({ ctx, input: params })),
    }),
  }),
  streamEndpoint({
    method: 'get',
    path: '/v1/tasks/{id}/events',
    tag: 'tasks',
    role: 'viewer',
    summary: 'Follow a task as server-sent events',
    description:
      'Each event has the name progress or ended. Its data is the task as JSON, and its id is the progress number. Send Last-Event-ID to continue from there. The stream ends when the task ends.',
    params: IdParam,
    answers: { 200: { description: 'The stream.', textTypes: ['text/event-stream'] } },
    stream: async (c, { id }, deps) => {
      const task = await asClub(deps.database, c.get('ctx'), (ctx) => getTask({ ctx, input: { id } }));
      const headers = { 'cache-control': 'private, no-store' };
      if (c.req.method === 'HEAD')
        return new Response(null, { headers: { ...headers, 'content-type': 'text/event-stream' } });
      const have = Number(/^\d{1,9}$/.exec(c.req.header('last-event-id') ?? '')?.[0] ?? 0);
      return streamSSE(c, async (stream) => {
        await new Promise<void>((resolve) => {
          let last = have;
          let sending = Promise.resolve();
          const send = (now: Task) => {
            if (now.progressNumber <= last && !hasEnded(now)) return;
            last = now.progressNumber;
            const event = {
              id: String(now.progressNumber),
              event: hasEnded(now) ? 'ended' : 'progress',
              data: JSON.stringify(presentTask(now)),
            };
            sending = sending
              .then(() => stream.writeSSE(event))
              .then(() => (hasEnded(now) ? end() : undefined), end);
          };
          const ping = setInterval(() => void stream.write(': still here\n\n').catch(end), PING_MS);
          const stop = deps.watch.follow(id, send);
          function end(): void {
            clearInterval(ping);
            stop();
            resolve();
          }
          stream.onAbort(end);
          deps.watch.closing.addEventListener('abort', end, { once: true });
          send(task);
        });
      });
    },
  }),
];
