import type { Colour } from '../../engine/model/colour.ts';
import { colourForm, colourShort } from '../../engine/model/short/colourForm.ts';
import type { ShortContext } from '../../engine/model/short/form.ts';
import { joined } from '../../engine/model/short/numbers.ts';
import { moneyShort } from '../../engine/model/short/moneyForm.ts';
import { postageShort } from '../../engine/model/short/postageForm.ts';
import type { Supplier } from '../../engine/model/supplier.ts';
import type { Column } from '../column.ts';

/** A list of words in one cell. */
export const listShort = (list: readonly string[], context: ShortContext) => joined(list, context);

export const mateShort = ({ loom, point }: { loom?: string; point: string }) =>
  loom === undefined ? point : `${loom}/${point}`;

/** Base and tracer in one cell; these fields of the colour have columns of their own. */
export const colour = (apart: readonly string[]): Pick<Column, 'parts' | 'short'> => ({
  parts: { apart, short: colourForm },
  short: (value: Colour) => colourShort(value),
});

type Postage = NonNullable<Supplier['postage']>;

/** As people write it; else each charge with the value from which it holds, where amounts such as 0.00 stand as they are. */
export const postage = (given: Postage, context: ShortContext): string[] => [
  postageShort(given, context),
  ...(given.by === 'value'
    ? [
        joined(
          given.bands.map(
            ({ fromValue, charge }) =>
              `${moneyShort(charge, context)} from ${moneyShort(fromValue, context)}`,
          ),
          context,
        ),
      ]
    : []),
];
