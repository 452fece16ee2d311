import { z } from 'zod';
import { asClub } from '../../db/club.ts';
import { cancelTask, getTask } from '../../db/tasks.ts';
import { endpoint, streamEndpoint, type Endpoint, type StreamEndpoint } from '../http/endpoint.ts';
import { presentTask, TaskOut } from './present.ts';
import { taskEvents } from './taskEvents.ts';

const IdParam = z.strictObject({ id: z.uuid() });

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
      'Each event has the name progress or ended. Its data is the task as JSON, and its id is the progress number. Send Last-Event-ID to continue from there. The stream ends when the task ends or the key is revoked. A key and a club can have only so many streams open at once; more are refused with 429.',
    params: IdParam,
    answers: { 200: { description: 'The stream.', textTypes: ['text/event-stream'] } },
    problems: ['too-many', 'not-ready'],
    stream: async (c, { id }, deps) => {
      const task = await asClub(deps.database, c.get('ctx'), (ctx) => getTask({ ctx, input: { id } }));
      const headers = { 'cache-control': 'private, no-store' };
      if (c.req.method === 'HEAD')
        return new Response(null, { headers: { ...headers, 'content-type': 'text/event-stream' } });
      const have = Number(/^\d{1,9}$/.exec(c.req.header('last-event-id') ?? '')?.[0] ?? 0);
      const { club, key, member } = c.get('ctx');
      if (key === undefined) throw new Error('a stream was opened without a key');
      const follower = deps.watch.follow({ task: id, club, key, member });
      return taskEvents(c, follower, task, have);
    },
  }),
];
