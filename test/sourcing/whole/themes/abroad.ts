import { jobOf, partOf, type SupplierInput, type Terms } from '../jobOf.ts';
import type { Random } from '../../random.ts';
import { chargesOf, money, packOf, sum, type Currency, type Making } from './make.ts';
import type { Theme } from './theme.ts';

type LaneInput = NonNullable<Terms['lanes']>[number];

/** Counted parts from home and from abroad, with duty, tax and fees above thresholds. */
export const customs: Theme = {
  name: 'customs',
  rules: [
    'duty',
    'dutyThreshold',
    'dutyOn',
    'importTax',
    'taxThreshold',
    'clearanceFee',
    'clearanceThreshold',
    'valueIs',
    'freeThreshold',
    'taxTakenOff',
  ],
  make: customsJob,
};

/** Currencies with rates of several days, and prices that hold tax, duty, or none. */
export const exchange: Theme = {
  name: 'exchange',
  rules: ['currencyRate', 'latestRate', 'rateOfDay', 'importTax', 'taxAdded', 'taxTakenOff', 'taxAndDuty'],
  make: (random) => exchangeJob(random, { south: 'EUR', west: random.pick(['USD', 'JPY']), north: 'GBP' }),
};

/** Prices that hold no tax, tax, or tax and duty. */
export const holding: Theme = {
  name: 'holding',
  rules: ['taxAdded', 'taxTakenOff', 'taxAndDuty', 'importTax', 'duty', 'clearanceFee'],
  make: (random) => exchangeJob(random, {}),
};

const COUNTRIES: Record<string, string> = { north: 'GB', south: 'FR', west: 'DE' };

/** A lane whose thresholds lie about the value, in pence, of what is bought. */
function laneOf(from: string, random: Random, about: number): LaneInput {
  const value = () => money(Math.round((about * random.whole(30, 150)) / 100), 'GBP');
  return {
    code: `from-${from}`,
    from,
    to: 'GB',
    taxPercent: random.pick([0, 5, 20, 20, 7.7]),
    dutyPercent: random.pick([0, 2, 3.7, 10]),
    dutyOn: random.pick(['goods', 'goods', 'goodsAndPostage'] as const),
    valueIs: random.pick(['goods', 'goodsAndPostage', 'goodsAndPostage'] as const),
    exactlyThere: random.pick(['free', 'charged'] as const),
    sellerTaxPercent: random.pick([0, 19, 20]),
    ...(random.percent(60) && { dutyOverValue: value() }),
    ...(random.percent(70) && { taxOverValue: value() }),
    ...(random.percent(80) && { clearanceFee: money(random.whole(20, 150), 'GBP') }),
    ...(random.percent(70) && { clearanceOverValue: value() }),
  };
}

function customsJob(random: Random) {
  const suppliers = [
    'south',
    ...(random.percent(45) ? ['west'] : []),
    ...(random.percent(30) ? ['north'] : []),
  ];
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 25 };
  const requirements = requirementsOf(random);
  const about = sum(requirements.map(({ needed, piece }) => needed * piece));
  return jobOf(wanted(requirements), {
    parts: requirements.map(({ part }) => partOf('clip', part)),
    suppliers: suppliers.map((code): SupplierInput => ({
      code,
      name: code,
      currency: 'GBP',
      country: COUNTRIES[code] ?? 'GB',
      ...(random.percent(70) && { pricesInclude: random.pick(['noTax', 'tax', 'tax'] as const) }),
      ...chargesOf(random, 'GBP', { often: 80, level: 120, value: 450 }),
    })),
    offers: offersFor(requirements, random, making),
    lanes: ['FR', 'DE'].map((from) => laneOf(from, random, about)),
  });
}

interface Requirement {
  part: string;
  needed: number;
  piece: number;
}

const requirementsOf = (random: Random): Requirement[] =>
  ['a', 'b', 'c'].slice(0, random.pick([1, 2, 2, 3])).map((part) => ({
    part,
    needed: random.whole(1, 5),
    piece: random.whole(40, 120),
  }));

const wanted = (requirements: readonly Requirement[]) => ({
  looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
  lines: [{ loom: 'loom', quantity: 1 }],
});

const offersFor = (requirements: readonly Requirement[], random: Random, making: Making) =>
  requirements.flatMap((requirement) =>
    Array.from({ length: random.whole(1, 3) }, (_, index) =>
      packOf(`${requirement.part}-${index}`, requirement.part, requirement, making),
    ),
  );

function exchangeJob(random: Random, currencies: Record<string, Currency>) {
  const all = ['south', 'west', 'north', 'south', 'west'];
  const suppliers = all.slice(random.whole(0, 2)).slice(0, random.pick([1, 1, 2, 3]));
  const currencyOf = (code: string) => currencies[code] ?? 'GBP';
  const making: Making = { random, suppliers, currencyOf, rules: 25 };
  const requirements = requirementsOf(random);
  return jobOf(wanted(requirements), {
    parts: requirements.map(({ part }) => partOf('clip', part)),
    suppliers: suppliers.map((code): SupplierInput => {
      const country = random.percent(20) ? 'GB' : (COUNTRIES[code] ?? 'GB');
      return {
        code,
        name: code,
        currency: currencyOf(code),
        country,
        ...(random.percent(90) && {
          pricesInclude: random.pick(
            country === 'GB'
              ? (['noTax', 'noTax', 'tax'] as const)
              : (['noTax', 'tax', 'tax', 'taxAndDuty', 'taxAndDuty', 'taxAndDuty'] as const),
          ),
        }),
        ...chargesOf(random, currencyOf(code), { often: 50, level: 100, value: 450 }),
      };
    }),
    offers: offersFor(requirements, random, making),
    rates: suppliers.flatMap((code) => (currencyOf(code) === 'GBP' ? [] : ratesOf(currencyOf(code), random))),
    lanes: [
      { code: 'home', from: 'GB', to: 'GB', taxPercent: random.pick([20, 17.5]) },
      ...['FR', 'DE'].map((from) => ({
        ...laneOf(from, random, 300),
        sellerTaxPercent: random.pick([19, 20]),
      })),
    ],
  });
}

/** One to three days' rates, about as the currencies are worth; now and then of later days alone. */
function ratesOf(currency: Currency, random: Random): NonNullable<Terms['rates']> {
  const about = { GBP: 1, EUR: 0.85, USD: 0.75, JPY: 0.5, KWD: 2 }[currency];
  const days = ['2026-09-01', '2026-11-30', '2026-12-24'].filter(() => random.percent(85));
  return (days.length > 0 ? days : ['2026-11-01']).map((on) => ({
    code: `${currency}-${on}`,
    currency,
    on,
    rate: ((about * random.whole(8500, 11_500)) / 10_000).toFixed(random.pick([2, 4, 8])),
  }));
}
