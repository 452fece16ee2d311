import { quoteToday, type QuoteToday } from '../worker/engine/model/quoteToday.ts';
import { readResult } from '../worker/engine/model/upgrade.ts';
import type { Ctx } from './club.ts';
import { todayOf } from './offerPrices.ts';
import { offersByCode } from './offers.ts';
import { getQuoteText } from './quotes.ts';
import { rates } from './rates.ts';

/** The goods of a finished quote at today's prices. Errors: NotFound, Conflict where there is no result. */
export async function quoteAtTodaysPrices({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<QuoteToday> {
  const result = readResult(JSON.parse(await getQuoteText({ ctx, input: { ...input, which: 'result' } })));
  return quoteToday({
    quote: input.id,
    result,
    offers: await offersByCode({
      ctx,
      input: { codes: [...new Set(result.purchases.map(({ offer }) => offer))] },
    }),
    rates: await rates.all({ ctx }),
    today: todayOf(ctx),
  });
}
