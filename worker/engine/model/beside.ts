import { z } from 'zod';
import { Code, Day } from './code.ts';
import { MoneyOut, Price } from './money.ts';

const whole = z.int().min(0);

/** Another mix than the quote's. */
const mix = {
  suppliers: z.array(Code),
  unmet: whole.meta({
    description: 'Needs that this mix does not meet, in addition to those that are not sourced.',
  }),
  total: MoneyOut.meta({ description: 'What you pay in all.' }),
  more: MoneyOut.meta({ description: 'How much more that is than this quote.' }),
  cost: MoneyOut.meta({
    description: 'Delivered cost, unrounded. It includes the parcelNuisance of each parcel.',
  }),
  bound: MoneyOut.meta({
    description: 'Lower bound: no such mix that meets as many needs costs less than this.',
  }),
  proven: z.boolean().meta({ description: 'Whether it is proven that no such mix is cheaper.' }),
};

const BySuppliers = z
  .strictObject({ atMost: whole.meta({ description: 'The mix uses at most this many suppliers.' }), ...mix })
  .meta({ id: 'MixBySuppliers' });

const ByDay = z
  .strictObject({
    day: Day.meta({
      description: 'The day on which all of the first order has arrived, by the lead days that are entered.',
    }),
    leadDays: whole,
    leadUnknown: whole.meta({
      description: 'Lines of the first order without lead days. They are assumed to arrive in time.',
    }),
    ...mix,
  })
  .meta({ id: 'MixByDay' });

const OtherSet = z.strictObject(mix).meta({ id: 'MixOfOthers' });

const Elsewhere = z
  .strictObject({
    requirement: z.string(),
    offer: Code.meta({ description: 'The offer that the quote buys.' }),
    supplier: Code,
    wave: whole.optional(),
    from: z
      .array(z.strictObject({ offer: Code, supplier: Code }))
      .meta({ description: 'What is bought in its place.' }),
    total: MoneyOut.optional().meta({ description: 'The total of the whole quote in that case.' }),
    more: MoneyOut.optional().meta({ description: 'How much more that is than this quote.' }),
    why: z.enum(['nobodyElse', 'minimumOrder', 'insistedOn', 'notWorked']).optional().meta({
      description:
        'Why there is no such total: no other supplier of the mix can supply it; the rest of the order at this supplier is below its minimum order; the request insists on the supplier and nothing else comes from it; or the time ran out.',
    }),
  })
  .meta({ id: 'LineElsewhere' });

const Fall = z
  .strictObject({
    offer: Code,
    supplier: Code,
    fallPercent: z.number().min(0).max(100).meta({
      description:
        'All prices of the offer must fall by at least this much before a mix with it can cost less than this quote. This is proven: the true figure can be higher, never lower.',
    }),
    price: Price.meta({
      description: 'The first price of the offer: of a pack, a kit, a length or a metre.',
    }),
    priceAtMost: Price.meta({
      description: 'That price after this fall. The price must come down at least to this.',
    }),
    never: z.boolean().meta({ description: 'No price is low enough, not even zero.' }),
  })
  .meta({ id: 'LosingOffer' });

const Unfinished = z
  .strictObject({
    part: z.enum(['bySuppliers', 'byDay', 'otherSet', 'elsewhere', 'falls']),
    left: whole.meta({ description: 'How many mixes, lines or offers were not finished.' }),
    why: z.enum(['time', 'number']).meta({
      description: 'The time ran out (the setting besideSeconds), or the limit on their number was reached.',
    }),
  })
  .meta({ id: 'BesideUnfinished' });

export const Beside = z
  .strictObject({
    bySuppliers: z.array(BySuppliers).meta({
      description:
        'The cheapest mix from at most one supplier, two, three and so on, up to as many as the quote has. Mixes that cannot meet as many needs as the quote come first.',
    }),
    byDay: z.array(ByDay).meta({
      description:
        'The cheapest mix that arrives by a day, for each day on which it becomes cheaper, up to the day of the quote. Mixes that cannot meet as many needs come first.',
    }),
    otherSet: OtherSet.optional().meta({
      description:
        'The cheapest mix from another set of suppliers that meets as many needs. Absent if there is none.',
    }),
    elsewhere: z.array(Elsewhere).meta({
      description:
        'For each line of the quote: what changes if its need is bought from the other suppliers of the mix and all else stays the same.',
    }),
    falls: z.array(Fall).meta({
      description: 'The usable offers that are not bought and have a known bound, the nearest first.',
    }),
    fallsUnknown: whole.optional().meta({
      description:
        'How many more usable offers are not bought and have no known bound: it is not known whether their price must fall.',
    }),
    unfinished: z.array(Unfinished),
  })
  .meta({
    id: 'Beside',
    description:
      'Close alternatives to the cheapest mix. They are worked out after the quote is ready, for at most the time of the setting besideSeconds.',
  });
export type Beside = z.infer<typeof Beside>;
