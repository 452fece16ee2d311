import { z } from 'zod';
import { Code } from './code.ts';
import { Price } from './money.ts';

const whole = z.int().min(0);

/** How much of an offer is bought: packs of pieces, one continuous length, fixed lengths, or kits. */
export const Bought = z.discriminatedUnion('form', [
  z.strictObject({
    form: z.literal('pack'),
    packs: whole,
    packCount: whole,
    pieces: whole,
    packPrice: Price,
  }),
  z.strictObject({ form: z.literal('metre'), lengthMm: whole, pricePerMetre: Price }),
  z.strictObject({
    form: z.literal('length'),
    packs: whole,
    nominalMm: whole,
    usableMm: whole.meta({ description: 'Usable millimetres of one length, after tolerance and end loss.' }),
    packPrice: Price,
  }),
  z.strictObject({
    form: z.literal('kit'),
    packs: whole,
    contents: z.array(z.strictObject({ part: Code, quantity: whole })),
    packPrice: Price,
  }),
]);
export type Bought = z.infer<typeof Bought>;
