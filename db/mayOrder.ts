import type { Ctx } from './club.ts';
import { Forbidden } from './errors.ts';
import { mayAs } from './keys.ts';
import { getQuote, type StoredQuote } from './quotes.ts';

/** Whose things these are: those of a member’s quote are the member’s, all others the editors’. */
export async function requireMayOrder(ctx: Ctx, quoteId: string): Promise<StoredQuote> {
  const stored = await getQuote({ ctx, input: { id: quoteId } });
  const { ownerId } = stored.quote;
  if (!mayAs(ctx.role, 'editor') && (ownerId === null || ownerId !== ctx.member))
    throw new Forbidden(
      `The quote is not yours. With the role ${ctx.role} you can order from quotes of your own only. Ask an editor of your club.`,
    );
  return stored;
}
