import { z } from 'zod';
import { Code } from './code.ts';
import { MadeLoom } from './madeLoom.ts';
import { MoneyOut } from './money.ts';

const whole = z.int().min(0);
const minutes = z.number().min(0);

const LabourRow = z
  .strictObject({
    operation: z.string().meta({
      description: 'As the setting labourMinutes names it; firstLoom: what the first loom takes longer.',
      example: 'crimping',
    }),
    label: z.string().meta({ description: 'In words.', example: 'crimping' }),
    count: z.number().min(0),
    unit: z.string().meta({ example: 'end' }),
    minutesEach: minutes,
    minutes: minutes.meta({ description: 'Rounded half-up to 2 decimals. Totals are sums of these.' }),
    byDefault: z.literal(true).optional().meta({
      description:
        'The minutes are a default, from memory, no source: put your own in the setting labourMinutes.',
    }),
  })
  .meta({ id: 'LabourRow', description: 'One operation of making a loom: how often, and how long in all.' });

export const LoomLabour = z
  .strictObject({
    loom: MadeLoom,
    quantity: whole,
    minutes: minutes.meta({ description: 'For all looms of this kind.' }),
    minutesIfBought: minutes.meta({
      description:
        'How much of that remains if they are bought made: taking the old looms off, fitting and testing the new ones.',
    }),
    operations: z.array(LabourRow).meta({ description: 'For all looms of this kind.' }),
  })
  .meta({ id: 'LoomLabour', description: 'The labour of one loom of the request, if it is built.' });

export type LoomLabour = z.infer<typeof LoomLabour>;

const MadeUpLoom = z
  .strictObject({
    part: Code,
    label: z.string(),
    looms: z.array(MadeLoom).meta({ description: 'The looms of the request instead of which it is bought.' }),
    quantity: whole.meta({ description: 'How many are needed.' }),
    why: z.string().optional().meta({
      description: 'Why it cannot be bought instead of these looms. Absent if it can be.',
    }),
  })
  .meta({ id: 'MadeUpLoom', description: 'A made-up loom for looms of the request.' });

const ToolCost = z
  .strictObject({
    part: Code.optional().meta({ description: 'Absent for what the request lists under extras.' }),
    label: z.string(),
    paid: MoneyOut.meta({ description: 'What it costs; of a part without postage and tax.' }),
    counted: MoneyOut.meta({
      description: 'How much of that counts for these looms: less what it sells for, or the share of them.',
    }),
  })
  .meta({ id: 'ToolCost' });

const Combination = z
  .strictObject({
    built: z.array(MadeLoom),
    bought: z.array(z.strictObject({ part: Code, looms: z.array(MadeLoom), quantity: whole })),
    state: z.enum(['proven', 'bestSoFar', 'ruledOut', 'notWorked', 'impossible']).meta({
      description:
        'proven: no mix for these looms has a lower delivered cost. bestSoFar: the time ran out. ruledOut: not worked to the end, because its bound is not below the total of the best. notWorked: the time or the limit on the number of combinations was reached. impossible: the made-up looms cannot be bought in the number needed, or not together.',
    }),
    delivered: MoneyOut.optional().meta({
      description:
        'What is paid to the suppliers, with postage, tax and customs. If ruledOut: of the cheapest mix that was found. Absent if none was found.',
    }),
    tools: z.array(ToolCost).meta({
      description: 'Tools and consumables that do not count in full, and those that the request adds.',
    }),
    cost: MoneyOut.optional().meta({
      description:
        'The delivered cost with tools and consumables counted as the request says, without labour.',
    }),
    minutes: minutes.meta({
      description:
        'The labour of the looms that are built, and what of it those that are bought made take too.',
    }),
    labour: MoneyOut.meta({ description: 'The labour at the worth of an hour.' }),
    total: MoneyOut.optional().meta({ description: 'cost and labour.' }),
    bound: MoneyOut.meta({
      description:
        'Lower bound of the total, unrounded, if these looms are bought for at the lowest delivered cost. It includes the parcelNuisance of each parcel.',
    }),
    leadDays: whole.optional().meta({
      description: 'Days until all of the first order has arrived, by the lead days that are entered.',
    }),
    leadUnknown: whole.optional().meta({ description: 'Lines of the first order without lead days.' }),
    unsourced: whole.optional().meta({ description: 'Needs that are not in the cost: no offer meets them.' }),
    leftOut: whole.optional().meta({
      description:
        'Needs with offers that are not in the cost: they cannot be bought together with the rest.',
    }),
  })
  .meta({ id: 'LoomCombination', description: 'Which looms are built and which are bought made.' });
export type Combination = z.infer<typeof Combination>;

const Meeting = z
  .strictObject({
    saving: MoneyOut.meta({
      description: 'How much less it costs to build all, without labour. Negative: how much more.',
    }),
    minutes: z.number().meta({ description: 'How much longer it takes to build all.' }),
    hourWorth: MoneyOut.optional().meta({
      description:
        'The worth of an hour at which both come to the same. Below it building all is cheaper. Absent if building all is not cheaper at any worth, or takes no longer.',
    }),
  })
  .meta({ id: 'BuildOrBuyMeeting' });

const place = whole.meta({ description: 'Its place in combinations, from 0.' });

export const BuildOrBuy = z
  .strictObject({
    order: z.enum(['build', 'cheapest']).meta({
      description: 'What the rest of the result is for: building all looms, or the best combination.',
    }),
    hourWorth: MoneyOut,
    labour: z.array(LoomLabour).meta({ description: 'Of each loom of the request, as if it were built.' }),
    madeUp: z.array(MadeUpLoom),
    combinations: z.array(Combination).meta({
      description: 'All built first, then all bought if that can be, then the others, lowest total first.',
    }),
    best: place,
    allBuilt: place,
    allBought: place.optional().meta({
      description: 'The cheapest way to buy all looms made. Absent if that cannot be.',
    }),
    proven: z.boolean().meta({
      description:
        'Whether no combination can have a lower total than the best, each bought for at the lowest delivered cost. What tools sell for, and the shares of other looms in them, are taken off after that.',
    }),
    bound: MoneyOut.meta({ description: 'Lower bound: no combination has a lower total than this.' }),
    notWorked: z
      .strictObject({ combinations: whole, why: z.enum(['time', 'number']) })
      .optional()
      .meta({
        description:
          'How many combinations were not worked out: the time ran out (the setting buildOrBuySeconds), or there are too many.',
      }),
    againstAllBought: Meeting.optional(),
    againstBest: Meeting.optional().meta({
      description: 'Absent if building all is the best, or buying all is.',
    }),
    leftOut: z.array(z.string()).meta({ description: 'What the comparison does not count, in words.' }),
  })
  .meta({
    id: 'BuildOrBuy',
    description:
      'The looms of the request built, bought made, or some of each: what each combination costs and takes.',
  });
export type BuildOrBuy = z.infer<typeof BuildOrBuy>;
