import { z } from 'zod';
import { Code, Country, Name, Note } from './code.ts';
import { LIMITS } from './limits.ts';
import { Currency, Money } from './money.ts';
import { withScope, withShort } from './short/form.ts';
import { postageForm } from './short/postageForm.ts';
import { supplierScope } from './short/scopes.ts';

const Postage = withShort(
  z
    .discriminatedUnion('by', [
      z.strictObject({
        by: z.literal('value'),
        bands: z
          .array(z.strictObject({ fromValue: Money, charge: Money }))
          .min(1)
          .max(LIMITS.bands),
      }),
      z.strictObject({
        by: z.literal('weight'),
        bands: z
          .array(z.strictObject({ fromG: z.int().min(0).max(1_000_000_000), charge: Money }))
          .min(1)
          .max(LIMITS.bands),
        freeFromValue: Money.optional(),
      }),
    ])
    .meta({
      id: 'Postage',
      description:
        'Postage in bands, by the value of the goods or by weight. The charge of a band holds from its start up to the start of the next. The first band starts at 0. For free postage, let the last band have the charge 0.',
    }),
  postageForm,
);

export const Supplier = withScope(
  z
    .strictObject({
      code: Code,
      name: Name,
      currency: Currency,
      country: Country.optional().meta({ description: 'The country from which it sends.' }),
      website: z.url().max(500).optional(),
      email: z.email().max(200).optional(),
      phone: Name.optional(),
      postage: Postage.optional().meta({ description: 'What it charges for postage. Left out: nothing.' }),
      minimumOrder: Money.optional(),
      handling: Money.optional(),
      pricesInclude: z.enum(['noTax', 'tax', 'taxAndDuty']).optional().meta({
        description:
          'Whether prices, postage and handling include the tax of the supplier’s country. taxAndDuty: they include all import costs too. Left out: nothing is added within your country, and prices from abroad include no tax.',
      }),
      leadDays: z.int().min(0).max(3650).optional(),
      note: Note.optional(),
    })
    .superRefine((supplier, issues) => {
      const fault = (path: PropertyKey[], message: string) =>
        issues.addIssue({ code: 'custom', path, message });
      const sameCurrency = (path: PropertyKey[], money: Money | undefined) => {
        if (money && money.currency !== supplier.currency)
          fault(
            [...path, 'currency'],
            `the supplier’s currency is ${supplier.currency}; write the amount in ${supplier.currency}`,
          );
      };
      sameCurrency(['minimumOrder'], supplier.minimumOrder);
      sameCurrency(['handling'], supplier.handling);
      const postage = supplier.postage;
      if (!postage) return;
      let last = -1;
      postage.bands.forEach((band, index) => {
        const from = 'fromG' in band ? band.fromG : Number(band.fromValue.amount);
        const field = 'fromG' in band ? ['fromG'] : ['fromValue', 'amount'];
        sameCurrency(['postage', 'bands', index, 'charge'], band.charge);
        if ('fromValue' in band) sameCurrency(['postage', 'bands', index, 'fromValue'], band.fromValue);
        if (index === 0 && from !== 0) fault(['postage', 'bands', 0, ...field], 'start the first band at 0');
        if (from <= last)
          fault(
            ['postage', 'bands', index, ...field],
            'bands overlap; start each band above the one before it',
          );
        last = from;
      });
      if (postage.by === 'weight') sameCurrency(['postage', 'freeFromValue'], postage.freeFromValue);
    })
    .meta({ id: 'Supplier', description: 'A company or person who sells parts.' }),
  supplierScope,
);
export type Supplier = z.infer<typeof Supplier>;
