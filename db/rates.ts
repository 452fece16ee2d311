import { eq } from 'drizzle-orm';
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
  filters: { currency: (_ctx, currency) => eq(table.currency, currency) },
  faults: async (ctx, bodies) => {
    const { currency } = await getClub({ ctx });
    return new Map(
      bodies.filter((rate) => rate.currency === currency).map(({ code }) => [code, [ownFinding(currency)]]),
    );
  },
  clash: {
    field: 'on',
    constraint: 'rates_of_a_day',
    of: ({ currency, on }) => `${currency} ${on}`,
    column: table.day,
    inColumn: ({ on }) => on,
    sentence: ({ currency, on }, other) =>
      `A rate of ${currency} for ${on} already exists${other === undefined ? '' : `: ${other}`}. Change that one, or give this one another day.`,
  },
  // Only where the club's currency was changed at this very moment: else it is told before.
  forbidden: { rates_of_another_currency: ({ currency }) => ownCurrency(currency) },
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
