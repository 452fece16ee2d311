import { z } from 'zod';
import { Code, Day } from '../../worker/engine/model/code.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { Condition } from '../../worker/engine/model/offer.ts';
import type { ImportOptions } from '../../worker/tables/importTable.ts';

const yesOrNo = (description: string) => z.enum(['true', 'false']).optional().meta({ description });

export const reading = {
  preview: yesOrNo('true: nothing is written, and what would come of it is told.'),
  decimalComma: yesOrNo('true: 1,5 is one and a half, and lists are parted by semicolons.'),
  separator: z
    .enum(['comma', 'semicolon', 'tab'])
    .optional()
    .meta({ description: 'Where none is stated, the line of column names tells.' }),
};

/** How a list of a loom is read. */
export const ListQuery = z.strictObject(reading);

/** How a table of the catalogue is read. */
export const TableQuery = z.strictObject({
  ...reading,
  allOrNothing: yesOrNo('true: while any row has a fault, none is written, and `written` is false.'),
  onlyNew: yesOrNo(
    'true: what is there already stays; rows that differ are told as changed and not written.',
  ),
  rows: z.coerce
    .number()
    .int()
    .min(0)
    .max(10_000)
    .default(200)
    .meta({ description: 'How many rows are told, those with faults first.' }),
});

/** The same of offers, with what holds for rows that do not state their own. */
export const OffersQuery = TableQuery.extend({
  supplier: Code.optional().meta({ description: 'The supplier of rows that state none.' }),
  currency: Currency.optional().meta({ description: 'The currency of prices that state none.' }),
  condition: Condition.optional().meta({ description: 'The condition of rows that state none.' }),
  seenOn: Day.optional().meta({ description: 'The day on which prices were seen, of rows that state none.' }),
});
export type OffersQuery = z.infer<typeof OffersQuery>;

const SEPARATORS = { comma: ',', semicolon: ';', tab: '\t' } as const;

/** What a query says of how a file is read. */
export function readingOf({
  decimalComma,
  separator,
}: Pick<OffersQuery, 'decimalComma' | 'separator'>): Pick<ImportOptions, 'decimalComma' | 'delimiter'> {
  return {
    decimalComma: decimalComma === 'true',
    ...(separator === undefined ? {} : { delimiter: SEPARATORS[separator] }),
  };
}
