import { z } from 'zod';
import { Code, Country, Day, Note, percent } from './code.ts';
import { Money } from './money.ts';

const threshold = (what: string) =>
  Money.optional().meta({
    description: `${what} is charged only if the value is over this. Left out: for any value.`,
  });

/**
 * What is charged between two countries, all of it the user's input. A lane within one country has the tax that is added
 * to prices without it, and nothing else.
 */
export const Lane = z
  .strictObject({
    code: Code,
    from: Country,
    to: Country,
    taxPercent: percent.default(0).meta({
      description: 'Tax on sale or import, percent of goods, postage, handling and duty.',
    }),
    taxOverValue: threshold('Tax'),
    dutyPercent: percent.default(0).meta({ description: 'Duty, percent of the value that dutyOn names.' }),
    dutyOverValue: threshold('Duty'),
    dutyOn: z.enum(['goods', 'goodsAndPostage']).default('goodsAndPostage'),
    clearanceFee: Money.optional().meta({ description: 'What the carrier charges for clearing a parcel.' }),
    clearanceOverValue: threshold('The fee'),
    valueIs: z.enum(['goods', 'goodsAndPostage']).default('goods').meta({
      description:
        'Which value is compared with these limits: the goods alone, or the goods with postage and handling.',
    }),
    exactlyThere: z.enum(['free', 'charged']).default('free').meta({
      description: 'Whether a parcel of exactly this value is still free.',
    }),
    sellerTaxPercent: percent.default(0).meta({
      description:
        'The tax of the supplier’s country that is included in its prices and taken off when goods are sent abroad, percent.',
    }),
    seenOn: Day.optional(),
    note: Note.optional(),
  })
  .superRefine((lane, issues) => {
    if (lane.from !== lane.to) return;
    const abroad = ['taxOverValue', 'dutyOverValue', 'clearanceFee', 'clearanceOverValue'] as const;
    const fault = (field: string) =>
      issues.addIssue({
        code: 'custom',
        path: [field],
        message: 'a lane within one country has only a tax percentage; leave this out',
      });
    for (const field of abroad) if (lane[field] !== undefined) fault(field);
    for (const field of ['dutyPercent', 'sellerTaxPercent'] as const) if (lane[field] > 0) fault(field);
  })
  .meta({ id: 'Lane', description: 'Duty, tax and fees between two countries, or the tax within one.' });
export type Lane = z.infer<typeof Lane>;
