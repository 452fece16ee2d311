import type { Ctx } from '../../db/club.ts';
import type { StoredQuote } from '../../db/quotes.ts';
import { requireRoom } from '../../db/tasks.ts';
import type { Deps } from '../http/deps.ts';
import type { Reply } from '../http/endpoint.ts';
import { wakeFor } from '../http/wakeFor.ts';
import { presentQuote } from './present.ts';

/** The answer to a call that asks for a quote: it is stored where there is room for its task, and a worker is woken. */
export async function asked(ctx: Ctx, deps: Deps, store: () => Promise<StoredQuote>): Promise<Reply> {
  await requireRoom({ ctx, input: { most: deps.limits.queuePerClub } });
  const stored = await store();
  return {
    status: 202,
    body: presentQuote(stored),
    headers: { location: `/v1/quotes/${stored.quote.id}` },
    after: wakeFor(deps, stored.task, ctx),
  };
}
