import { and, eq, inArray } from 'drizzle-orm';
import type { Finding } from '../worker/engine/model/finding.ts';
import type { Rate } from '../worker/engine/model/rate.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { rates as table } from './schema/index.ts';

const ownCurrency = (currency: string) =>
  `${currency} is the club’s own currency and needs no rate. Give the supplier’s currency.`;

export const rates = catalogue({
  table,
  word: 'rate',
  columns: ({ currency, on }) => ({ currency, day: on }),
  faults: async (ctx, bodies) => {
    const { currency } = await getClub({ ctx });
    return new Map(
      bodies.filter((rate) => rate.currency === currency).map(({ code }) => [code, [ownFinding(currency)]]),
    );
  },
  clash: {
    field: 'on',
    of: ({ currency, on }) => `${currency} ${on}`,
    stored: async (ctx, bodies) => {
      const rows = await ctx.tx
        .select({ body: table.body })
        .from(table)
        .where(
          and(
            eq(table.clubId, ctx.club),
            inArray(
              table.day,
              bodies.map(({ on }) => on),
            ),
          ),
        );
      return rows.map(({ body }) => body);
    },
    sentence: ofTheDay,
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
  return (rate as Partial<Rate> | null)?.currency === currency ? [ownFinding(currency)] : [];
}

const ownFinding = (currency: string): Finding => ({
  code: 'rate-of-own-currency',
  severity: 'stop',
  at: '/currency',
  where: 'currency',
  found: JSON.stringify(currency),
  todo: ownCurrency(currency),
});

async function otherOfTheDay(ctx: Ctx, rate: Rate): Promise<string> {
  const { currency, on } = rate;
  const [other] = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.currency, currency), eq(table.day, on)));
  return ofTheDay(rate, other?.code);
}

function ofTheDay({ currency, on }: Rate, other: string | undefined): string {
  return `A rate of ${currency} for ${on} already exists${other === undefined ? '' : `: ${other}`}. Change that one, or give this one another day.`;
}
