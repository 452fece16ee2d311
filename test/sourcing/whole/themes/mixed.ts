import type { Random } from '../../random.ts';
import { jobOf, partOf, toolOf, type OfferInput, type RequestInput, type Terms } from '../jobOf.ts';
import { chargesOf, money, packOf, type Currency, type Making } from './make.ts';
import type { Theme } from './theme.ts';

/** A little of everything at once: orders, currencies, customs, families with tools, stand-ins, the shelf, what is asked. */
export const mixed: Theme = {
  name: 'mixed',
  rules: [
    ...(['currencyRate', 'importTax', 'duty', 'waves', 'wavesCarryOver', 'families', 'tools'] as const),
    ...([
      'standIns',
      'parcelNuisance',
      'atMostSuppliers',
      'insistOn',
      'neededBy',
      'stockPieces',
      'minimumOrder',
    ] as const),
  ],
  make: mixedJob,
};

const CURRENCIES: Record<string, Currency> = { south: 'EUR' };
const COUNTRIES: Record<string, string> = { north: 'GB', south: 'FR', west: 'DE' };

function mixedJob(random: Random) {
  const suppliers = ['north', 'south', ...(random.percent(40) ? ['west'] : [])];
  const currencyOf = (code: string) => CURRENCIES[code] ?? 'GBP';
  const making: Making = { random, suppliers, currencyOf, rules: 15 };
  const piece = () => random.whole(40, 120);
  const later = random.percent(45);
  const requirements = ['a', 'old', ...(random.percent(40) ? ['c'] : [])].map((part) => ({
    part,
    quantity: random.whole(1, 2),
    piece: piece(),
  }));
  const countedOf = (isIn: (requirement: (typeof requirements)[number]) => boolean) =>
    requirements.filter(isIn).map(({ part, quantity }) => ({ part, quantity }));
  const sold = [
    ...requirements,
    { part: 'e', quantity: 1, piece: piece() },
    { part: 'new', quantity: 1, piece: piece() },
  ];
  const tools = random.percent(60) ? ['press', 'pliers'].slice(0, random.whole(1, 2)) : [];
  const offers: OfferInput[] = [
    ...sold.map(({ part, quantity, piece }) =>
      packOf(part, part, { needed: later ? 2 * quantity : quantity, piece }, making),
    ),
    ...tools.map((tool) => packOf(tool, tool, { needed: 1, piece: random.whole(60, 200) }, making)),
    {
      form: 'pack',
      code: 'a-north',
      part: 'a',
      supplier: 'north',
      packCount: 1,
      packPrice: money(2 * piece(), 'GBP'),
    },
  ];
  return jobOf(
    {
      looms: {
        both: { counted: countedOf(({ part }) => part !== 'c') },
        ...(requirements.length > 2 && { one: { counted: countedOf(({ part }) => part === 'c') } }),
      },
      lines: [
        { loom: 'both', quantity: 1 },
        ...(later ? [{ loom: 'both', quantity: 1, wave: 2 }] : []),
        // Needed with one of the orders alone.
        ...(requirements.length > 2
          ? [{ loom: 'one', quantity: 1, wave: later ? random.whole(1, 2) : 1 }]
          : []),
      ],
    },
    {
      parts: [
        partOf('clip', 'a'),
        partOf('clip', 'c'),
        partOf('clip', 'e', { standsInFor: [{ part: 'a', confirmedBy: 'Ann' }] }),
        partOf('housing', 'old', { family: 'old' }),
        partOf('housing', 'new', { family: 'new', standsInFor: [{ part: 'old', confirmedBy: 'Ann' }] }),
        ...tools.map((tool) =>
          toolOf(tool, tool === 'press' ? ['old'] : random.pick([['new'], ['old', 'new']])),
        ),
      ],
      suppliers: suppliers.map((code) => {
        const { minimumOrder, ...charges } = chargesOf(random, currencyOf(code), {
          often: 50,
          level: 60,
          value: 200,
        });
        return {
          code,
          name: code,
          currency: currencyOf(code),
          country: COUNTRIES[code] ?? 'GB',
          ...(random.percent(70) && { pricesInclude: random.pick(['noTax', 'tax', 'taxAndDuty'] as const) }),
          ...charges,
          ...(minimumOrder && random.percent(60) && { minimumOrder }),
          ...(random.percent(45) && { leadDays: random.pick([2, 10, 21]) }),
        };
      }),
      offers,
      rates: [
        {
          code: 'eur',
          currency: 'EUR',
          on: '2026-11-20',
          rate: random.pick(['0.85', '0.8512', '0.86123456']),
        },
      ],
      lanes: lanesOf(random),
      stock: sold.flatMap(({ part }) =>
        random.percent(15)
          ? [{ form: 'pieces' as const, code: `my-${part}`, part, count: random.whole(1, 2) }]
          : [],
      ),
      request: requestOf(random, suppliers.length),
    },
  );
}

function lanesOf(random: Random): NonNullable<Terms['lanes']> {
  return [
    { code: 'home', from: 'GB', to: 'GB', taxPercent: 20 },
    ...['FR', 'DE'].map((from) => ({
      code: `from-${from}`,
      from,
      to: 'GB',
      taxPercent: random.pick([0, 20]),
      dutyPercent: random.pick([0, 3.7, 10]),
      sellerTaxPercent: random.pick([19, 20]),
      valueIs: random.pick(['goods', 'goodsAndPostage'] as const),
      ...(random.percent(50) && {
        dutyOverValue: { amount: random.pick(['1.50', '3.00']), currency: 'EUR' },
      }),
      ...(random.percent(50) && { taxOverValue: money(random.whole(100, 300), 'GBP') }),
      ...(random.percent(40) && { clearanceFee: { amount: '0.50', currency: 'EUR' } }),
    })),
  ];
}

function requestOf(random: Random, suppliers: number): Partial<RequestInput> {
  return {
    ...(random.percent(45) && { parcelNuisance: money(random.whole(20, 100), 'GBP') }),
    ...(random.percent(40) && { atMostSuppliers: random.whole(1, suppliers) }),
    ...(random.percent(40) && { insistOn: [random.pick(['north', 'south'])] }),
    ...(random.percent(15) && { pinned: [{ part: 'a', offer: random.pick(['a', 'a-north']) }] }),
    ...(random.percent(50) && { neededBy: '2026-12-06' }),
  };
}
