import { z } from 'zod';
import { Name } from './code.ts';

/** Who orders; nothing is worked out from it. */
export const Buyer = z
  .strictObject({
    name: Name.optional().meta({
      description: 'The name of the person, workshop or club.',
      example: 'Burrow Restorers',
    }),
    address: Name.optional().meta({
      description: 'The address, in one line.',
      example: '4 Mill Lane, Burrow',
    }),
    phone: Name.optional().meta({ description: 'A telephone number.', example: '01632 960 123' }),
    email: z
      .email()
      .max(200)
      .optional()
      .meta({ description: 'An e-mail address.', example: 'parts@burrow.example' }),
  })
  .meta({ id: 'Buyer', description: 'Who orders, as it is printed on order lists.' });
export type Buyer = z.infer<typeof Buyer>;

/** How to reach a supplier, as far as it is entered. */
export const Contact = z
  .strictObject({
    email: z.string().optional(),
    phone: z.string().optional(),
    website: z.string().optional(),
  })
  .meta({ id: 'Contact' });
