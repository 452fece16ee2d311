import { z } from 'zod';
import type { StoredQuote } from '../../db/quotes.ts';
import { TASK_STATES, type Task } from '../../db/tasks.ts';
import { Day } from '../../worker/engine/model/code.ts';
import { Finding } from '../../worker/engine/model/finding.ts';
import { requestShape } from '../../worker/engine/model/request.ts';

const moment = z.iso.datetime();
const path = z.string().regex(/^\/v1\//);

export const TaskOut = z
  .strictObject({
    id: z.uuid(),
    kind: z.enum(['quote']),
    state: z.enum(TASK_STATES),
    progress: z.strictObject({
      number: z.int(),
      phase: z.string(),
      percent: z.number().optional(),
      message: z.string(),
    }),
    attempts: z.int(),
    cancelAsked: z.boolean(),
    createdAt: moment,
    startedAt: moment.optional(),
    finishedAt: moment.optional(),
    workSeconds: z.number().optional().meta({ description: 'Seconds of work of the attempt that ended it.' }),
    problem: z
      .strictObject({
        code: z.string(),
        title: z.string(),
        detail: z.string(),
        findings: z.array(Finding).optional(),
      })
      .optional(),
    quote: path,
    events: path,
  })
  .meta({ id: 'Task', description: 'One piece of the worker’s work.' });

/** The only way out for a task's row. */
export function presentTask(task: Task): z.infer<typeof TaskOut> {
  const { phase, percent, message } = task.progress;
  return {
    id: task.id,
    kind: task.kind,
    state: task.state,
    progress: { number: task.progressNumber, phase, ...(percent === undefined ? {} : { percent }), message },
    attempts: task.attempts,
    cancelAsked: task.cancelAsked,
    createdAt: task.createdAt.toISOString(),
    ...(task.startedAt ? { startedAt: task.startedAt.toISOString() } : {}),
    ...(task.finishedAt ? { finishedAt: task.finishedAt.toISOString() } : {}),
    ...(task.workSeconds === null ? {} : { workSeconds: task.workSeconds }),
    ...(task.problem ? { problem: task.problem } : {}),
    quote: `/v1/quotes/${task.subject}`,
    events: `/v1/tasks/${task.id}/events`,
  };
}

export const QuoteOut = z
  .strictObject({
    id: z.uuid(),
    state: z.enum(TASK_STATES),
    asOf: Day,
    request: z.strictObject(requestShape),
    jobHash: z.string().optional(),
    createdAt: moment,
    createdBy: z.string(),
    task: path,
    result: path,
    orderLists: path,
    job: path,
  })
  .meta({ id: 'Quote', description: 'A quote asked for, and where to find its answer.' });

/** The only way out for a quote's row. */
export function presentQuote({ quote, task }: StoredQuote): z.infer<typeof QuoteOut> {
  return {
    id: quote.id,
    state: task.state,
    asOf: quote.asOf,
    request: quote.request,
    ...(quote.jobHash === null ? {} : { jobHash: quote.jobHash }),
    createdAt: quote.createdAt.toISOString(),
    createdBy: quote.createdBy,
    task: `/v1/tasks/${task.id}`,
    result: `/v1/quotes/${quote.id}/result`,
    orderLists: `/v1/quotes/${quote.id}/order-lists`,
    job: `/v1/quotes/${quote.id}/job`,
  };
}
