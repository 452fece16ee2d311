import { breaksShort, contentsShort } from '../../engine/model/short/breaksForm.ts';
import { moneyShort } from '../../engine/model/short/moneyForm.ts';
import type { Column } from '../column.ts';
import { postage } from './short.ts';
import { code, day, digits, form, mm, note, number, percent, text, word, yesNo } from './words.ts';

const leadDays = number('lead days', ['leadDays'], 'Days until it is there.', { unit: 'days' });

export const SUPPLIERS: readonly Column[] = [
  code('A short name of your choice.', { also: ['supplier'], example: 'ash' }),
  text('name', ['name'], 'The name of the supplier.', { needed: true, example: 'Ash Auto Cable' }),
  text('currency', ['currency'], 'Of its prices, by three letters. Empty: yours.', { example: 'GBP' }),
  text('country', ['country'], 'Where it sends from, by two letters.', { example: 'GB' }),
  form('postage', ['postage'], 'What a parcel costs: 3.95, free from 40. Empty: nothing.', {
    short: postage,
    example: '3.95, free from 40',
  }),
  form('minimum order', ['minimumOrder'], 'The least goods that it sells.', {
    short: moneyShort,
    also: ['min order'],
  }),
  form('handling', ['handling'], 'A charge on each order.', { short: moneyShort }),
  word('prices include', ['pricesInclude'], 'no tax, tax or tax and duty.'),
  leadDays,
  text('website', ['website'], 'Its address, from https on.', { also: ['link'] }),
  text('email', ['email'], 'Its e-mail address.'),
  text('phone', ['phone'], 'Its telephone.', { also: ['telephone'] }),
  note,
];

export const OFFERS: readonly Column[] = [
  code('A short name of your choice.', { also: ['offer'], example: 'ash-ring-10' }),
  text('supplier', ['supplier'], 'The code of the supplier.', { needed: true, example: 'ash' }),
  word(
    'sold by',
    ['form'],
    'pack (of so many), each (a pack of one), metre, length (a hank or reel) or kit.',
    {
      needed: true,
      also: ['form'],
      words: {
        hank: 'length',
        reel: 'length',
        roll: 'length',
        m: 'metre',
        meter: 'metre',
        metres: 'metre',
        packs: 'pack',
        each: 'pack',
      },
      implies: { each: { place: ['packCount'], value: 1 } },
      example: 'pack',
    },
  ),
  text(
    'part',
    ['part'],
    'Pack, metre, length: the code of the part, or a wire in words: 14/0.30 green/white.',
    { example: 'ring-6' },
  ),
  form('contents', ['contents'], 'Kit: what is in it: ring-6: 10, bullet: 5.', { short: contentsShort }),
  form('price', { metre: ['pricePerMetre'], '*': ['packPrice'] }, 'Of one pack, metre, length or kit.', {
    needed: true,
    short: moneyShort,
    example: '2.40',
  }),
  number('pieces in a pack', ['packCount'], 'Pack: how many are in it.', {
    also: ['pack of', 'pack count'],
    example: '10',
  }),
  mm('length mm', ['nominalMm'], 'Length: how long it is.', { also: ['length'] }),
  percent('tolerance %', ['tolerancePercent'], 'Length: how much shorter it may be.'),
  mm('end loss mm', ['endLossMm'], 'Length: what is lost at its ends.'),
  number('minimum packs', ['minimumPacks'], 'Pack, length, kit: at least so many. Empty: 1.'),
  number('step packs', ['stepPacks'], 'Pack, length, kit: in multiples of so many. Empty: 1.'),
  number('stock packs', ['stockPacks'], 'Pack, length, kit: so many are there. Empty: enough.'),
  mm('minimum mm', ['minimumMm'], 'Metre: at least so long. Empty: 1000.'),
  mm('step mm', ['stepMm'], 'Metre: in multiples of this. Empty: 1000.'),
  mm('stock mm', ['stockMm'], 'Metre: so much is there. Empty: enough.'),
  form(
    'breaks',
    ['breaks'],
    'From so many packs all at this price: 10: 0.38, 50: 0.33; by the metre 10 m: 0.38.',
    { short: breaksShort },
  ),
  text('supplier code', ['supplierCode'], 'The supplier’s own order code.', {
    also: ['their code', 'order code'],
  }),
  text('description', ['description'], 'The supplier’s words.'),
  word('condition', ['condition'], 'new, old stock, used or reproduction. Empty: new.'),
  day('seen on', ['seenOn'], 'The day on which you saw the price.', {
    also: ['price seen on'],
    example: '2026-11-02',
  }),
  leadDays,
  text('link', ['link'], 'The address of its page, from https on.', { also: ['url', 'website'] }),
  note,
];

export const STOCK: readonly Column[] = [
  code('A short name of your choice.', { example: 'box-3' }),
  word('kind', ['form'], 'pieces or length.', { needed: true, also: ['form'], example: 'pieces' }),
  text('part', ['part'], 'The code of the part.', { needed: true, example: 'ring-6' }),
  number('count', ['count'], 'How many pieces, or how many such lengths.', {
    needed: true,
    also: ['quantity'],
    example: '12',
  }),
  mm('length mm', ['lengthMm'], 'Length: how long each is, as it can be used.', { also: ['length'] }),
  text('owner', ['owner'], 'The name of the member whose it is. Empty: the club’s.'),
  text('place', ['place'], 'Where it lies.', { also: ['where'], example: 'shed, second drawer' }),
  yesNo('club may use', ['clubMayUse'], 'With an owner: yes or no. Empty: yes.'),
  note,
];

export const FITS: readonly Column[] = [
  text('from', ['from'], 'The code of a part.', { needed: true, example: 'joiner-4.7-2' }),
  word('relation', ['relation'], 'mates, takes, seals, covers or stands in for.', {
    needed: true,
    example: 'takes',
  }),
  text('to', ['to'], 'The code of the other part.', { needed: true, example: 'bullet-4.7-1' }),
  word('status', ['status'], 'proposed, confirmed or refuted. Empty: proposed.', { example: 'confirmed' }),
  text('by', ['by'], 'Who tried it.'),
  note,
];

export const RATES: readonly Column[] = [
  code('A short name of your choice.', { example: 'eur-nov' }),
  text('currency', ['currency'], 'The foreign currency, by three letters.', { needed: true, example: 'EUR' }),
  day('on', ['on'], 'The day of the rate.', { needed: true, also: ['day', 'date'], example: '2026-11-02' }),
  digits('rate', ['rate'], 'What one unit of it is worth in your currency.', {
    needed: true,
    example: '0.85',
  }),
  note,
];

const over = (what: string) => `${what} only of a value over this. Empty: of any value.`;

export const LANES: readonly Column[] = [
  code('A short name of your choice.', { example: 'de-gb' }),
  text('from', ['from'], 'The country from which is sent, by two letters.', { needed: true, example: 'DE' }),
  text('to', ['to'], 'The country to which is sent.', { needed: true, example: 'GB' }),
  percent('tax %', ['taxPercent'], 'Tax on sale or import. Empty: 0.', { example: '20' }),
  form('tax over value', ['taxOverValue'], over('Taxed'), { short: moneyShort }),
  percent('duty %', ['dutyPercent'], 'Duty. Empty: 0.'),
  form('duty over value', ['dutyOverValue'], over('Duty'), { short: moneyShort }),
  word('duty on', ['dutyOn'], 'goods or goods and postage. Empty: goods and postage.'),
  form('clearance fee', ['clearanceFee'], 'What the carrier takes for clearing a parcel.', {
    short: moneyShort,
  }),
  form('clearance over value', ['clearanceOverValue'], over('The fee'), { short: moneyShort }),
  word(
    'value is',
    ['valueIs'],
    'What is compared with these values: goods or goods and postage. Empty: goods.',
  ),
  word('exactly there', ['exactlyThere'], 'A parcel of just such a value is free or charged. Empty: free.'),
  percent(
    'supplier tax %',
    ['sellerTaxPercent'],
    'The tax of the supplier’s country that its prices hold and that is taken off. Empty: 0.',
  ),
  day('seen on', ['seenOn'], 'The day on which you saw this.'),
  note,
];
