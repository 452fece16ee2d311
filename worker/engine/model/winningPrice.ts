import { z } from 'zod';
import { Code, Day } from './code.ts';
import { MoneyOut } from './money.ts';

export const WINNING_PRICE_FORMAT = 'loomwright-winning-price';
export const WINNING_PRICE_VERSION = 1;

const whole = z.int().min(0);

/** The prices of an offer once its first one is changed: all in the same proportion, down to what a price may carry. */
const Prices = z
  .strictObject({
    first: MoneyOut.meta({
      description:
        'Which unit the price is for: a pack, kit or length, or a metre for an offer by the metre.',
    }),
    breaks: z.array(
      z.strictObject({
        fromPacks: whole.optional(),
        fromMm: whole.optional(),
        price: MoneyOut,
      }),
    ),
  })
  .meta({ id: 'OfferPrices' });
export type OfferPrices = z.infer<typeof Prices>;

const AtPrice = z
  .strictObject({
    prices: Prices,
    changePercent: z.number().meta({
      description:
        'The change of the first price; a fall is negative. A fall is rounded up, a rise is rounded down.',
    }),
    buys: z
      .array(
        z.strictObject({
          wave: whole.optional().meta({ description: 'The number of the order, if there are several.' }),
          packs: whole.optional(),
          lengthMm: whole.optional(),
        }),
      )
      .meta({ description: 'How much of the offer the cheapest mix with it buys.' }),
    total: MoneyOut.meta({ description: 'The total of that mix, as you pay it.' }),
    cost: MoneyOut.meta({ description: 'The same, unrounded, with the parcelNuisance of each parcel.' }),
  })
  .meta({ id: 'WinningAtPrice' });
export type AtPrice = z.infer<typeof AtPrice>;

export const WinningPrice = z
  .strictObject({
    format: z.literal(WINNING_PRICE_FORMAT),
    version: z.literal(WINNING_PRICE_VERSION),
    jobHash: z.string().meta({ description: 'SHA-256 of the job that the answer was worked from.' }),
    asOf: Day,
    offer: Code,
    supplier: Code,
    supplierName: z.string().optional().meta({ description: 'Absent in older answers.' }),
    form: z.enum(['pack', 'metre', 'length', 'kit']),
    stated: Prices.meta({ description: 'The prices as they were entered.' }),
    outcome: z.enum(['wins', 'bought', 'always', 'never']).meta({
      description:
        'wins: the cheapest mix does not buy the offer now, but does when its price falls to `at`. bought: the cheapest mix buys it, at any price up to `at`. always: without it fewer needs are met, so it is bought at any price. never: the cheapest mix does not buy it, even at a price of zero.',
    }),
    at: AtPrice.optional().meta({
      description: 'The highest price found at which a cheapest mix buys the offer.',
    }),
    losesAt: z
      .strictObject({
        first: MoneyOut,
        cost: MoneyOut.optional().meta({
          description:
            'Of the cheapest mix found with the offer. Absent if the offer cannot be bought together with the rest.',
        }),
      })
      .optional()
      .meta({
        description:
          'The next price above `at`, at which the cheapest mix with the offer costs more than the one without it: one minor unit more, or the entered price if that is nearer. If the proof is not finished, it can be further above. Absent: no price was found at which the offer loses.',
      }),
    without: z
      .strictObject({
        total: MoneyOut,
        cost: MoneyOut,
        unsourced: whole.meta({ description: 'Needs that are met with the offer, but not without it.' }),
      })
      .meta({ description: 'The cheapest mix that does not buy the offer.' }),
    proof: z.strictObject({
      status: z.enum(['proven', 'notProven']),
      stoppedBy: z.enum(['time', 'numbers', 'cutting']).optional(),
      elsewhere: z.enum(['settled', 'notLooked']).meta({
        description:
          'settled: it is proven that no higher price wins (for never: no price wins; for always: every higher price wins), because the charges of its supplier never fall when the goods are worth more. notLooked: another price can reach or miss a threshold of its supplier, and only the prices that are shown were tried.',
      }),
      solved: whole.meta({ description: 'How many times the cheapest mix was searched for.' }),
    }),
  })
  .meta({
    id: 'WinningPrice',
    description:
      'The price at which one offer is bought. All prices of the offer change in the same proportion; all else stays the same.',
  });
export type WinningPrice = z.infer<typeof WinningPrice>;

/** Reads a stored answer. Throws where it is none. */
export function readWinningPrice(document: unknown): WinningPrice {
  return WinningPrice.parse(document);
}
