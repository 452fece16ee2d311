import { z } from 'zod';
import { Code, Day, Name, Note, count, mm, percent } from './code.ts';
import { LIMITS } from './limits.ts';
import { Price } from './money.ts';
import { contentsForm, metreBreaksForm, packBreaksForm } from './short/breaksForm.ts';
import { withScope, withShort } from './short/form.ts';
import { offerScope } from './short/scopes.ts';
import { soldPartForm } from './short/wireWords.ts';

export const Condition = z.enum(['new', 'oldStock', 'used', 'reproduction']).meta({ id: 'Condition' });

const common = {
  code: Code,
  supplier: Code,
  supplierCode: Name.optional().meta({
    description: 'The supplier’s own order code, printed on order lists.',
  }),
  description: Name.optional(),
  condition: Condition.default('new'),
  seenOn: Day.optional().meta({ description: 'The day on which the price was seen.' }),
  leadDays: z.int().min(0).max(3650).optional(),
  link: z.url().max(500).optional(),
  note: Note.optional(),
};

/** What is sold: a part by its code. */
const SoldPart = withShort(
  Code.meta({ description: 'The code of the part that it sells.', example: 'ring-6-15' }),
  soldPartForm,
);

const packRules = {
  minimumPacks: count(1).default(1),
  stepPacks: count(1).default(1).meta({ description: 'Packs are ordered in multiples of this number.' }),
  stockPacks: count(0).optional().meta({ description: 'How many packs the supplier has. Left out: enough.' }),
};

const packBreaks = withShort(
  z
    .array(z.strictObject({ fromPacks: count(2), packPrice: Price }))
    .max(LIMITS.breaks)
    .meta({ description: 'From this number of packs, all packs have this price.' }),
  packBreaksForm,
).optional();

const Pack = z.strictObject({
  form: z.literal('pack'),
  ...common,
  part: SoldPart,
  packCount: count(1).meta({ description: 'How many pieces are in a pack.' }),
  packPrice: Price,
  ...packRules,
  breaks: packBreaks,
});

const Metre = z.strictObject({
  form: z.literal('metre'),
  ...common,
  part: SoldPart,
  pricePerMetre: Price,
  minimumMm: mm(LIMITS.offerMm, 1).default(1000),
  stepMm: mm(LIMITS.offerMm, 1)
    .default(1000)
    .meta({ description: 'Sold in multiples of this, as one continuous length.' }),
  stockMm: mm(LIMITS.offerMm).optional(),
  breaks: withShort(
    z.array(z.strictObject({ fromMm: mm(LIMITS.offerMm, 1), pricePerMetre: Price })).max(LIMITS.breaks),
    metreBreaksForm,
  ).optional(),
});

const FixedLength = z.strictObject({
  form: z.literal('length'),
  ...common,
  part: SoldPart,
  nominalMm: mm(LIMITS.offerMm, 1).meta({ description: 'Nominal length of a hank, reel or roll, mm.' }),
  tolerancePercent: percent.max(100).default(0),
  endLossMm: mm(LIMITS.offerMm).default(0),
  packPrice: Price,
  ...packRules,
  breaks: packBreaks,
});

const Kit = z.strictObject({
  form: z.literal('kit'),
  ...common,
  contents: withShort(
    z
      .array(z.strictObject({ part: Code, quantity: count(1) }))
      .min(1)
      .max(LIMITS.kitContents),
    contentsForm,
  ),
  packPrice: Price,
  ...packRules,
  breaks: packBreaks,
});

export const Offer = withScope(
  z
    .discriminatedUnion('form', [Pack, Metre, FixedLength, Kit])
    .superRefine((offer, issues) => {
      const fault = (path: PropertyKey[], message: string) =>
        issues.addIssue({ code: 'custom', path, message });
      const currency = offer.form === 'metre' ? offer.pricePerMetre.currency : offer.packPrice.currency;
      let last = offer.form === 'metre' ? offer.minimumMm : offer.minimumPacks;
      offer.breaks?.forEach((entry, index) => {
        const [field, from] =
          'fromMm' in entry ? (['fromMm', entry.fromMm] as const) : (['fromPacks', entry.fromPacks] as const);
        const [priceField, price] =
          'pricePerMetre' in entry
            ? (['pricePerMetre', entry.pricePerMetre] as const)
            : (['packPrice', entry.packPrice] as const);
        if (from <= last)
          fault(
            ['breaks', index, field],
            index === 0
              ? 'start the first break above the minimum'
              : 'breaks overlap; start each break above the one before it',
          );
        if (price.currency !== currency)
          fault(
            ['breaks', index, priceField, 'currency'],
            `the offer is priced in ${currency}; write this price in ${currency} too`,
          );
        last = from;
      });
      if (offer.form === 'length' && offer.nominalMm * (1 - offer.tolerancePercent / 100) <= offer.endLossMm)
        fault(['endLossMm'], 'tolerance and end loss leave nothing of the length; enter smaller ones');
      if (offer.form === 'kit') {
        offer.contents.forEach((content, index) => {
          if (content.part === offer.code)
            fault(['contents', index, 'part'], 'a kit cannot contain itself; name the parts that are in it');
        });
        const seen = new Set<string>();
        offer.contents.forEach((content, index) => {
          if (seen.has(content.part))
            fault(['contents', index, 'part'], 'state each part of a kit once, with its whole quantity');
          seen.add(content.part);
        });
      }
    })
    .meta({
      id: 'Offer',
      description:
        'What a supplier sells, and its price: a pack of a part, a part by the metre, a fixed length, or a kit.',
    }),
  offerScope,
);
export type Offer = z.infer<typeof Offer>;

/** The parts that an offer sells, each with the pointer below the offer at which it is named. */
export function offerParts(offer: Offer): { part: string; path: PropertyKey[] }[] {
  return offer.form === 'kit'
    ? offer.contents.map((content, index) => ({ part: content.part, path: ['contents', index, 'part'] }))
    : [{ part: offer.part, path: ['part'] }];
}

/** The one currency of an offer. */
export function offerCurrency(offer: Offer): string {
  return offer.form === 'metre' ? offer.pricePerMetre.currency : offer.packPrice.currency;
}
