import { and, eq, gte, lt } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import { audit } from './schema/index.ts';
import type { Task } from './tasks.ts';

/** A task and its audit row are written in one transaction: no more than this apart, ms. */
const TOGETHER_MS = 60_000;

/** Which request asked for a task, and whose: undefined where it came out of an archive. */
export async function askedBy({
  ctx,
  input: task,
}: {
  ctx: Ctx;
  input: Pick<Task, 'subject' | 'offerCode' | 'createdAt'>;
}): Promise<{ requestId: string; actor: string } | undefined> {
  const [action, subject] =
    task.offerCode === null
      ? ['quote.create', task.subject]
      : ['winning-price.ask', `${task.subject}/${task.offerCode}`];
  const [row] = await ctx.tx
    .select({ requestId: audit.requestId, actor: audit.actor })
    .from(audit)
    .where(
      and(
        eq(audit.clubId, ctx.club),
        gte(audit.at, task.createdAt),
        lt(audit.at, new Date(task.createdAt.getTime() + TOGETHER_MS)),
        eq(audit.action, action),
        eq(audit.subject, subject),
      ),
    )
    .limit(1);
  return row;
}
