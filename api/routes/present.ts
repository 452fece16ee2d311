import { z } from 'zod';
import { seenByOf } from '../../db/own.ts';
import type { StoredQuote } from '../../db/quotes.ts';
import { TASK_KINDS, TASK_STATES, type Task } from '../../db/tasks.ts';
import type { StoredWinningPrice } from '../../db/winningPrices.ts';
import { Code, Day } from '../../worker/engine/model/code.ts';
import { Finding } from '../../worker/engine/model/finding.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { requestShape } from '../../worker/engine/model/request.ts';
import { ownedShape } from './people.ts';
import { hasEnded } from '../http/watch.ts';
import { readWinningPrice, WinningPrice } from '../../worker/engine/model/winningPrice.ts';

const moment = z.iso.datetime();
const path = z.string().regex(/^\/v1\//);
const amount = z.string().regex(/^\d+(\.\d+)?$/);

export const TaskOut = z
  .strictObject({
    id: z.uuid(),
    kind: z.enum(TASK_KINDS),
    state: z.enum(TASK_STATES),
    progress: z.strictObject({
      number: z.int(),
      phase: z.string(),
      percent: z.number().optional(),
      message: z.string(),
      figures: z
        .strictObject({
          currency: Currency,
          best: amount.meta({ description: 'The cheapest mix found so far.' }),
          bound: amount.optional().meta({ description: 'No mix costs less.' }),
          gapPercent: z
            .number()
            .optional()
            .meta({ description: 'The difference of the two, percent of the best.' }),
        })
        .optional()
        .meta({
          description:
            'What is known of the cheapest mix during the search. It never gets worse within an attempt.',
        }),
    }),
    attempts: z.int(),
    cancelAsked: z.boolean(),
    createdAt: moment,
    startedAt: moment.optional(),
    finishedAt: moment.optional(),
    workSeconds: z.number().optional().meta({ description: 'How many seconds the last attempt worked.' }),
    problem: z
      .strictObject({
        code: z.string(),
        title: z.string(),
        detail: z.string(),
        findings: z.array(Finding).optional(),
      })
      .optional(),
    quote: path,
    winningPrice: path.optional().meta({ description: 'For a task of this kind: where its answer is.' }),
    events: path,
  })
  .meta({ id: 'Task', description: 'A task: one piece of work for the worker.' });

/** The only way out for a task's row. */
export function presentTask(task: Task): z.infer<typeof TaskOut> {
  const { phase, percent, message, figures } = task.progress;
  return {
    id: task.id,
    kind: task.kind,
    state: task.state,
    progress: {
      number: task.progressNumber,
      phase,
      ...(percent === undefined ? {} : { percent }),
      message,
      ...(figures ? { figures } : {}),
    },
    attempts: task.attempts,
    cancelAsked: task.cancelAsked,
    createdAt: task.createdAt.toISOString(),
    ...(task.startedAt ? { startedAt: task.startedAt.toISOString() } : {}),
    ...(task.finishedAt ? { finishedAt: task.finishedAt.toISOString() } : {}),
    ...(task.workSeconds === null ? {} : { workSeconds: task.workSeconds }),
    ...(task.problem ? { problem: task.problem } : {}),
    quote: `/v1/quotes/${task.subject}`,
    ...(task.offerCode === null
      ? {}
      : { winningPrice: `/v1/quotes/${task.subject}/winning-prices/${task.offerCode}` }),
    events: `/v1/tasks/${task.id}/events`,
  };
}

export const QuoteOut = z
  .strictObject({
    id: z.uuid(),
    state: z.enum(TASK_STATES),
    asOf: Day,
    request: z.strictObject(requestShape),
    restOf: z.uuid().optional().meta({
      description: 'The quote of whose looms it buys what is still missing.',
    }),
    jobHash: z.string().optional(),
    createdAt: moment,
    createdBy: z.string(),
    task: path,
    result: path,
    resultState: z.enum(['none', 'quote', 'whole']).meta({
      description:
        'How much of the result can be read. quote: the result and its order lists can be read; the close alternatives are still being worked out. whole: everything can be read.',
    }),
    orderLists: path,
    job: path,
    winningPrices: path,
    ...ownedShape,
  })
  .meta({ id: 'Quote', description: 'A quote that you asked for, and where to find its answer.' });

/** The only way out for a quote's row. */
export function presentQuote({ quote, task, owner }: StoredQuote): z.infer<typeof QuoteOut> {
  return {
    id: quote.id,
    state: task.state,
    asOf: quote.asOf,
    request: quote.request,
    ...(quote.restOf === null ? {} : { restOf: quote.restOf }),
    ...(quote.jobHash === null ? {} : { jobHash: quote.jobHash }),
    createdAt: quote.createdAt.toISOString(),
    createdBy: quote.createdBy,
    task: `/v1/tasks/${task.id}`,
    result: `/v1/quotes/${quote.id}/result`,
    resultState: !quote.hasResult ? 'none' : hasEnded(task) ? 'whole' : 'quote',
    orderLists: `/v1/quotes/${quote.id}/order-lists`,
    job: `/v1/quotes/${quote.id}/job`,
    winningPrices: `/v1/quotes/${quote.id}/winning-prices`,
    ...(owner === null ? {} : { owner }),
    seenBy: seenByOf(quote),
  };
}

export const WinningPriceOut = z
  .strictObject({
    offer: Code,
    state: z.enum(TASK_STATES),
    createdAt: moment,
    createdBy: z.string(),
    quote: path,
    task: path,
    answer: WinningPrice.optional().meta({ description: 'The answer. Present when the task is done.' }),
  })
  .meta({
    id: 'WinningPriceAsked',
    description: 'The winning price of an offer that you asked for, with its answer.',
  });

/** The only way out for the row of a winning price. */
export function presentWinningPrice({ asked, task }: StoredWinningPrice): z.infer<typeof WinningPriceOut> {
  return {
    offer: asked.offerCode,
    state: task.state,
    createdAt: asked.createdAt.toISOString(),
    createdBy: asked.createdBy,
    quote: `/v1/quotes/${asked.quoteId}`,
    task: `/v1/tasks/${task.id}`,
    ...(asked.answer === null ? {} : { answer: readWinningPrice(JSON.parse(asked.answer)) }),
  };
}
