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
        'Postage in bands. By value of the goods: each band’s charge holds from its value up to the next; a free threshold is a last band with charge 0. The first band starts at 0.',
    }),
  postageForm,
);

export const Supplier = withScope(
  z
    .strictObject({
      code: Code,
      name: Name,
      currency: Currency,
      country: Country.optional().meta({ description: 'Where it sends from.' }),
      website: z.url().max(500).optional(),
      email: z.email().max(200).optional(),
      phone: Name.optional(),
      postage: Postage.optional().meta({ description: 'None stated means none charged.' }),
      minimumOrder: Money.optional(),
      handling: Money.optional(),
      pricesInclude: z.enum(['noTax', 'tax', 'taxAndDuty']).optional().meta({
        description:
          'Whether prices, postage and handling hold the tax of the seller’s country; taxAndDuty: all that import costs too. None stated: nothing is added at home, and abroad they hold no tax.',
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
        if (index === 0 && from !== 0) fault(['postage', 'bands', 0, ...field], 'the first band starts at 0');
        if (from <= last)
          fault(
            ['postage', 'bands', index, ...field],
            'bands overlap: each band starts above the one before it',
          );
        last = from;
      });
      if (postage.by === 'weight') sameCurrency(['postage', 'freeFromValue'], postage.freeFromValue);
    })
    .meta({ id: 'Supplier', description: 'Somebody who sells.' }),
  supplierScope,
);
export type Supplier = z.infer<typeof Supplier>;
