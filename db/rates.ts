import { and, eq } from 'drizzle-orm';
import type { Finding } from '../worker/engine/model/finding.ts';
import type { Rate } from '../worker/engine/model/rate.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { Invalid } from './errors.ts';
import { rates as table } from './schema/index.ts';

const ownCurrency = (currency: string) =>
  `${currency} is the club’s own currency and needs no rate. Give the supplier’s currency.`;

export const rates = catalogue({
  table,
  word: 'rate',
  columns: ({ currency, on }) => ({ currency, day: on }),
  check: async (ctx, rate) => {
    const findings = await ownCurrencyFaults(ctx, rate);
    if (findings.length > 0) throw new Invalid(findings);
  },
  clashes: {
    rates_of_a_day: otherOfTheDay,
    // Only where the club's currency was changed at this very moment: else it is told before.
    rates_of_another_currency: (_ctx, { currency }) => ownCurrency(currency),
  },
});

/** A finding where a rate is of the club's own currency; nothing of what is no rate. */
export async function ownCurrencyFaults(ctx: Ctx, rate: unknown): Promise<Finding[]> {
  const { currency } = await getClub({ ctx });
  if ((rate as Partial<Rate> | null)?.currency !== currency) return [];
  return [
    {
      code: 'rate-of-own-currency',
      severity: 'stop',
      at: '/currency',
      where: 'currency',
      found: JSON.stringify(currency),
      todo: ownCurrency(currency),
    },
  ];
}

async function otherOfTheDay(ctx: Ctx, { currency, on }: Rate): Promise<string> {
  const [other] = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.currency, currency), eq(table.day, on)));
  return `A rate of ${currency} for ${on} already exists${other ? `: ${other.code}` : ''}. Change that one, or give this one another day.`;
}
