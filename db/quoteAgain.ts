import type { Ctx } from './club.ts';
import { requireMayOrder } from './mayOrder.ts';
import { seenByOf } from './own.ts';
import { createQuote, type StoredQuote } from './quotes.ts';

/** The same request at today's prices, with the same revisions of its looms. Errors: those of createQuote; Forbidden for another's. */
export async function quoteAgain({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<StoredQuote> {
  const { quote } = await requireMayOrder(ctx, id);
  return createQuote({ ctx, input: quote.request, seenBy: seenByOf(quote), restOf: quote.restOf });
}

/**
 * A quote for what is still missing of the looms of a quote; nothing more is bought from suppliers that are shut out. Whom the
 * quote insists on had its order, and is not insisted on again. Errors: those of createQuote; Forbidden for another's.
 */
export async function quoteRest({
  ctx,
  input: { id, shutOut = [] },
}: {
  ctx: Ctx;
  input: { id: string; shutOut?: readonly string[] | undefined };
}): Promise<StoredQuote> {
  const { quote } = await requireMayOrder(ctx, id);
  const { shutOut: before = [], insistOn: _had, ...request } = quote.request;
  // Those that are asked for first, so that a fault names their place.
  const out = [...new Set([...shutOut, ...before])];
  return createQuote({
    ctx,
    input: { ...request, ...(out.length === 0 ? {} : { shutOut: out }) },
    seenBy: seenByOf(quote),
    restOf: quote.restOf ?? quote.id,
  });
}
