import { z } from 'zod';
import { Code, Day } from './code.ts';
import { MoneyOut } from './money.ts';

export const WINNING_PRICE_FORMAT = 'loomwright-winning-price';
export const WINNING_PRICE_VERSION = 1;

const whole = z.int().min(0);

/** The prices of an offer once its first one is changed: all in the same proportion, down to what a price may carry. */
const Prices = z
  .strictObject({
    first: MoneyOut.meta({ description: 'A pack, kit or length; of an offer by the metre, a metre.' }),
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
        'By how much the first price is changed: a fall is below nothing. Rounded so that it is enough for a fall, and not too much for a rise.',
    }),
    buys: z
      .array(
        z.strictObject({
          wave: whole.optional().meta({ description: 'With which order, where there are several.' }),
          packs: whole.optional(),
          lengthMm: whole.optional(),
        }),
      )
      .meta({ description: 'What the cheapest mix with the offer buys of it.' }),
    total: MoneyOut.meta({ description: 'What that mix comes to as it is paid.' }),
    cost: MoneyOut.meta({ description: 'The same, unrounded, with what parcels count as nuisances.' }),
  })
  .meta({ id: 'WinningAtPrice' });
export type AtPrice = z.infer<typeof AtPrice>;

export const WinningPrice = z
  .strictObject({
    format: z.literal(WINNING_PRICE_FORMAT),
    version: z.literal(WINNING_PRICE_VERSION),
    jobHash: z.string().meta({ description: 'SHA-256 of the job as it was worked.' }),
    asOf: Day,
    offer: Code,
    supplier: Code,
    form: z.enum(['pack', 'metre', 'length', 'kit']),
    stated: Prices.meta({ description: 'The prices as they were entered.' }),
    outcome: z.enum(['wins', 'bought', 'always', 'never']).meta({
      description:
        'wins: it is in no cheapest mix, and comes into one when its price falls to `at`. bought: it is in a cheapest mix, and stays in one up to `at`. always: without it more needs go unmet, so that it is bought whatever it costs. never: it is in no cheapest mix even where it costs nothing.',
    }),
    at: AtPrice.optional().meta({
      description: 'The highest price found at which a cheapest mix buys some of the offer.',
    }),
    losesAt: z
      .strictObject({
        first: MoneyOut,
        cost: MoneyOut.optional().meta({
          description:
            'Of the cheapest mix found with the offer; none where it cannot be bought beside the rest.',
        }),
      })
      .optional()
      .meta({
        description:
          'The next price above `at`, where the cheapest mix with the offer costs more than the one without: one minor unit more, or the stated price where that is nearer. Where the proof is not finished it may lie further above. None: it was not seen to lose.',
      }),
    without: z
      .strictObject({
        total: MoneyOut,
        cost: MoneyOut,
        unsourced: whole.meta({ description: 'Needs that go unmet without the offer, though not with it.' }),
      })
      .meta({ description: 'The cheapest mix that buys none of the offer.' }),
    proof: z.strictObject({
      status: z.enum(['proven', 'notProven']),
      stoppedBy: z.enum(['time', 'numbers', 'cutting']).optional(),
      elsewhere: z.enum(['settled', 'notLooked']).meta({
        description:
          'settled: no higher price wins (where none wins, no price at all; where it is always bought, every higher one does), as what its supplier charges never falls when goods are worth more. notLooked: with other prices it may reach or miss a threshold, so that only the prices told were looked at.',
      }),
      solved: whole.meta({ description: 'How many mixes were solved for.' }),
    }),
  })
  .meta({
    id: 'WinningPrice',
    description:
      'The price at which one offer is bought: all its prices change in the same proportion, all else stays.',
  });
export type WinningPrice = z.infer<typeof WinningPrice>;

/** Reads a stored answer. Throws where it is none. */
export function readWinningPrice(document: unknown): WinningPrice {
  return WinningPrice.parse(document);
}
