import { z } from 'zod';
import { D } from '../units/decimal.ts';
import { Code, count, Name } from './code.ts';
import { LIMITS } from './limits.ts';
import { Money } from './money.ts';

const sellsFor = Money.optional().meta({
  description: 'What it can be sold for when the job is done. It is taken off its cost.',
});

const sharedOver = count(1, LIMITS.sharedOver).optional().meta({
  description:
    'For how many looms, this quote’s and others, it is used: this quote pays one share. 4: a quarter. Left out: this quote pays all of it.',
});

const Extra = z
  .strictObject({
    description: Name.meta({
      description: 'What it is, in your words.',
      example: 'gas for the soldering iron',
    }),
    kind: z.enum(['tool', 'consumable']).meta({
      description: 'A consumable is used up. A tool can be sold afterwards, or used for other looms.',
    }),
    cost: Money,
    sellsFor,
    sharedOver,
  })
  .meta({
    id: 'BuildingExtra',
    description: 'A tool or a consumable that building needs and that no loom lists: gas, solder, blades.',
  });

const ToolShare = z.strictObject({ part: Code, sellsFor, sharedOver }).meta({
  id: 'ToolShare',
  description:
    'How a tool of the catalogue is counted, if this quote buys it: whole, less what it sells for afterwards, or shared over several looms.',
});
export type ToolShare = z.infer<typeof ToolShare>;

/** What is asked about building the looms against buying them made. */
export const BuildOrBuyRequest = z
  .strictObject({
    order: z.enum(['build', 'cheapest']).optional().meta({
      description:
        'What the order lists are for. build: all looms are built. cheapest: the cheapest mix of looms that are built and looms that are bought made. Left out: build.',
    }),
    hourWorth: Money.optional().meta({
      description: 'What an hour of your work is worth to you. It can be 0. Left out: 0.',
      example: { amount: '12.00', currency: 'GBP' },
    }),
    extras: z.array(Extra).max(LIMITS.extras).optional().meta({
      description: 'Tools and consumables that building needs and that no loom lists.',
    }),
    tools: z.array(ToolShare).max(LIMITS.extras).optional().meta({
      description:
        'Tools of the catalogue that are not counted whole. A tool in stock is owned, and costs nothing.',
    }),
  })
  .meta({
    id: 'BuildOrBuyRequest',
    description: 'Asks whether it is cheaper to build the looms or to buy them made.',
  });
export type BuildOrBuyRequest = z.infer<typeof BuildOrBuyRequest>;

interface Fault {
  code: string;
  path: PropertyKey[];
  message: string;
}

/** What is wrong in it by itself, its shape being right. Paths start inside the request. */
export function buildOrBuyFaults({ extras = [], tools = [] }: BuildOrBuyRequest): Fault[] {
  const seen = new Set<string>();
  return [
    ...extras.flatMap(({ cost, sellsFor: resale }, index): Fault[] => {
      const path = ['buildOrBuy', 'extras', index, 'sellsFor'];
      // Of what is not read as money nothing is said twice.
      if (!isMoney(cost) || !isMoney(resale)) return [];
      if (cost.currency !== resale.currency)
        return [
          {
            code: 'resale-in-other-currency',
            path,
            message: `it costs ${cost.currency} and sells for ${resale.currency}; write both in one currency`,
          },
        ];
      return new D(resale.amount).lte(cost.amount)
        ? []
        : [
            {
              code: 'sells-above-cost',
              path,
              message: `it costs ${cost.amount} ${cost.currency}; give at most that as what it sells for afterwards`,
            },
          ];
    }),
    ...tools.flatMap(({ part }, index): Fault[] => {
      if (typeof part !== 'string') return [];
      const twice = seen.has(part);
      seen.add(part);
      return twice
        ? [
            {
              code: 'duplicate-tool',
              path: ['buildOrBuy', 'tools', index, 'part'],
              message: `${part} is stated twice; keep one of them`,
            },
          ]
        : [];
    }),
  ];
}

function isMoney(value: unknown): value is Money {
  const money = value as Partial<Record<keyof Money, unknown>> | undefined;
  return (
    typeof money?.amount === 'string' &&
    /^\d+(\.\d+)?$/.test(money.amount) &&
    typeof money.currency === 'string'
  );
}

/** The currencies in which it states amounts. */
export function currenciesOf({ hourWorth, extras = [], tools = [] }: BuildOrBuyRequest): string[] {
  const amounts = [
    hourWorth,
    ...extras.flatMap((extra) => [extra.cost, extra.sellsFor]),
    ...tools.map((tool) => tool.sellsFor),
  ];
  return amounts.flatMap((amount) => amount?.currency ?? []);
}
