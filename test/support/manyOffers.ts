import { sql } from 'drizzle-orm';
import type { Ctx } from '../../db/club.ts';
import { offers } from '../../db/offers.ts';
import { offerPrices } from '../../db/schema/index.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { plusDays } from '../../worker/engine/units/day.ts';

/** The day on which the newest prices were seen; of each offer the earlier ones go back in steps of 40 days. */
const SEEN_ON = '2026-11-02';

const BATCH = 1_000;

/** Offers in packs, one after the other through the parts and the suppliers; the same number gives the same offer. */
export function manyOffer(at: number, parts: readonly string[], suppliers: readonly string[]): Offer {
  return Offer.parse({
    form: 'pack',
    code: `offer-${String(at).padStart(6, '0')}`,
    supplier: suppliers[at % suppliers.length],
    part: parts[(at * 7) % parts.length],
    packCount: 10,
    packPrice: { amount: `${2 + (at % 50)}.20`, currency: 'GBP' },
    breaks: [{ fromPacks: 10, packPrice: { amount: `${2 + (at % 50)}.10`, currency: 'GBP' } }],
    seenOn: plusDays(SEEN_ON, -(at % 30)),
  });
}

/** Fills a club with offers that have so many prices each. */
export async function fillOffers(
  run: <T>(work: (ctx: Ctx) => Promise<T>) => Promise<T>,
  asked: { parts: readonly string[]; suppliers: readonly string[]; count: number; prices: number },
): Promise<void> {
  for (let from = 0; from < asked.count; from += BATCH)
    await run((ctx) =>
      offers.bulk.write({
        ctx,
        input: Array.from({ length: Math.min(BATCH, asked.count - from) }, (_, at) => ({
          body: manyOffer(from + at, asked.parts, asked.suppliers),
          before: undefined,
        })),
      }),
    );
  // Through the store the older ones would take as long again for each.
  await run((ctx) =>
    ctx.tx.execute(sql`
      insert into ${offerPrices} (club_id, offer_code, number, seen_first, seen_last, seen, put_in_at, put_in_by, body)
      select club_id, offer_code, older + 1, seen_first - 40 * older, seen_last - 40 * older + 20, true, put_in_at, put_in_by,
        jsonb_set(body, '{packPrice,amount}', to_jsonb(older::text || '.75'))
      from ${offerPrices}, generate_series(1, ${asked.prices - 1}::integer) as older
      where number = 1`),
  );
}
