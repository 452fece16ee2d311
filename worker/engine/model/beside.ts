import { z } from 'zod';
import { Code, Day } from './code.ts';
import { MoneyOut, Price } from './money.ts';

const whole = z.int().min(0);

/** Another mix than the quote's. */
const mix = {
  suppliers: z.array(Code),
  unmet: whole.meta({ description: 'Needs that this mix leaves unmet, beside those that nobody sells.' }),
  total: MoneyOut.meta({ description: 'As it is paid.' }),
  more: MoneyOut.meta({ description: 'By how much that is more than this quote.' }),
  cost: MoneyOut.meta({
    description: 'Delivered cost, unrounded; what parcels count as nuisances included.',
  }),
  bound: MoneyOut.meta({ description: 'No such mix that meets as many needs costs less than this.' }),
  proven: z.boolean().meta({ description: 'Whether it is proven that no such mix is cheaper.' }),
};

const BySuppliers = z
  .strictObject({ atMost: whole.meta({ description: 'From so many suppliers at the most.' }), ...mix })
  .meta({ id: 'MixBySuppliers' });

const ByDay = z
  .strictObject({
    day: Day.meta({ description: 'When all of the first order is there, as far as lead days are entered.' }),
    leadDays: whole,
    leadUnknown: whole.meta({
      description: 'Lines of the first order of which no lead days are entered: taken to be there in time.',
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
      .meta({ description: 'What would be bought in its place.' }),
    total: MoneyOut.optional().meta({ description: 'What the whole would come to then, as it is paid.' }),
    more: MoneyOut.optional().meta({ description: 'By how much that is more.' }),
    why: z.enum(['nobodyElse', 'minimumOrder', 'insistedOn', 'notWorked']).optional().meta({
      description:
        'Why there is no such sum: nobody else in the mix can supply it; what is left at the supplier would be below its minimum order; the supplier is insisted on and nothing else comes from it; the time ran out.',
    }),
  })
  .meta({ id: 'LineElsewhere' });

const Fall = z
  .strictObject({
    offer: Code,
    supplier: Code,
    fallPercent: z.number().min(0).max(100).meta({
      description:
        'All prices of the offer must fall by at least so much before a mix with it can cost less than this quote. Proven; never stated too high.',
    }),
    price: Price.meta({ description: 'Its first price: of a pack, kit or length, or a metre.' }),
    priceAtMost: Price.meta({
      description: 'That price after such a fall: it must come down to this at least.',
    }),
    never: z.boolean().meta({ description: 'No price is low enough: not even for nothing.' }),
  })
  .meta({ id: 'LosingOffer' });

const Unfinished = z
  .strictObject({
    part: z.enum(['bySuppliers', 'byDay', 'otherSet', 'elsewhere', 'falls']),
    left: whole.meta({ description: 'So many mixes, lines or offers were not worked to the end.' }),
    why: z.enum(['time', 'number']).meta({
      description: 'The time ran out (the setting besideSeconds), or only so many are worked.',
    }),
  })
  .meta({ id: 'BesideUnfinished' });

export const Beside = z
  .strictObject({
    bySuppliers: z.array(BySuppliers).meta({
      description:
        'The cheapest mix from at most one supplier, two, three … to as many as the quote has. First those that cannot meet as many needs as the quote.',
    }),
    byDay: z.array(ByDay).meta({
      description:
        'The cheapest mix that is there by a day, for each day on which it becomes cheaper, to that of the quote. First those that cannot meet as many needs.',
    }),
    otherSet: OtherSet.optional().meta({
      description:
        'The cheapest mix from another set of suppliers that meets as many needs; none where there is none.',
    }),
    elsewhere: z.array(Elsewhere).meta({
      description:
        'For each line of the quote: what changes where its requirement comes from the other suppliers of the mix and all else stays as it is.',
    }),
    falls: z.array(Fall).meta({
      description:
        'For each usable offer of which nothing is bought and of which such a bound is known, the nearest first.',
    }),
    fallsUnknown: whole.optional().meta({
      description:
        'Of so many more usable offers of which nothing is bought it is not known that any fall is needed.',
    }),
    unfinished: z.array(Unfinished),
  })
  .meta({
    id: 'Beside',
    description:
      'What lies beside the cheapest mix: other mixes that were looked at within the setting besideSeconds, which begins when the quote is there.',
  });
export type Beside = z.infer<typeof Beside>;
