import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Lane } from '../../worker/engine/model/lane.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import { bandsOf, type ExactBand } from '../../worker/engine/sourcing/charges/deliveryBands.ts';
import { exchangeOf } from '../../worker/engine/model/exchange.ts';
import { customsOf } from '../../worker/engine/job/lanes.ts';

const page = readFileSync(new URL('../../docs/delivery-bands.md', import.meta.url), 'utf8');

const gbp = (amount: string) => ({ amount, currency: 'GBP' });
const eur = (amount: string) => ({ amount, currency: 'EUR' });
const byValue = (money: typeof gbp, ...bands: [string, string][]) => ({
  by: 'value',
  bands: bands.map(([from, charge]) => ({ fromValue: money(from), charge: money(charge) })),
});
const own = { code: 's', name: 'S', currency: 'GBP', country: 'GB' };
const freeFrom40 = { ...own, postage: byValue(gbp, ['0', '3.50'], ['40', '0']) };
const french = { ...own, currency: 'EUR', country: 'FR' };
const american = { ...own, country: 'US', postage: byValue(gbp, ['0', '20']) };
const lane = (from: string, given: object) => Lane.parse({ code: `${from}-GB`, from, to: 'GB', ...given });
const atImport = {
  taxPercent: 20,
  dutyPercent: 2,
  dutyOverValue: gbp('135'),
  clearanceFee: gbp('12'),
  clearanceOverValue: gbp('135'),
};

/** What is stated in each case of the page. */
const CASES: Record<string, { supplier: object; lanes?: Lane[]; nuisance?: string }> = {
  A: { supplier: own },
  B: { supplier: freeFrom40 },
  C: { supplier: { ...freeFrom40, minimumOrder: gbp('10') } },
  D: { supplier: { ...freeFrom40, minimumOrder: gbp('10'), handling: gbp('0.80') } },
  E: {
    supplier: {
      ...own,
      postage: {
        by: 'weight',
        bands: [
          { fromG: 0, charge: gbp('2.90') },
          { fromG: 500, charge: gbp('5.10') },
        ],
        freeFromValue: gbp('60'),
      },
    },
  },
  F: {
    supplier: { ...own, postage: byValue(gbp, ['0', '3.50']), pricesInclude: 'noTax' },
    lanes: [lane('GB', { taxPercent: 20 })],
  },
  G: { supplier: { ...french, postage: byValue(eur, ['0', '10']) } },
  H: {
    supplier: { ...french, postage: byValue(eur, ['0', '11.90']), pricesInclude: 'tax' },
    lanes: [lane('FR', { sellerTaxPercent: 19 })],
  },
  I: { supplier: american, lanes: [lane('US', atImport)] },
  J: { supplier: american, lanes: [lane('US', { ...atImport, valueIs: 'goodsAndPostage' })] },
  K: { supplier: freeFrom40, nuisance: '2' },
};

interface Row {
  goods: string;
  weight: string;
  charge: number;
  rate: number;
}

/** The rows of the page, by case. */
function stated(): Map<string, Row[]> {
  const rows = new Map<string, Row[]>();
  for (const [, name = '', goods = '', weight = '', charge, rate] of page.matchAll(
    /^\| ([A-Z]) +\|[^|]*\| ([^|]*?) +\| ([^|]*?) +\| ([\d.]+) +\| ([\d.]+) +\|$/gm,
  ))
    rows.set(name, [
      ...(rows.get(name) ?? []),
      { goods, weight, charge: Number(charge), rate: Number(rate) },
    ]);
  return rows;
}

/** The engine's bands in the words of the page. */
function words(band: ExactBand): Row {
  const pounds = (exact: bigint) => Number(exact) / 1e9;
  const isWhole = (exact: bigint) => exact % 10_000_000n === 0n;
  // Above a threshold: the next exact amount.
  const from = isWhole(band.from) ? `from ${pounds(band.from)}` : `above ${pounds(band.from - 1n)}`;
  const below =
    band.below === undefined
      ? ''
      : isWhole(band.below)
        ? ` below ${pounds(band.below)}`
        : ` up to ${pounds(band.below - 1n)}`;
  const grams = (micrograms: number) => micrograms / 1e6;
  const weight = [
    ...(band.fromMicrograms > 0 ? [`from ${grams(band.fromMicrograms)} g`] : []),
    ...(band.belowMicrograms === undefined ? [] : [`below ${grams(band.belowMicrograms)} g`]),
  ].join(' ');
  const sum = (list: { over: bigint; under: bigint }[]) =>
    list.reduce((total, { over, under }) => total + Number(over) / Number(under), 0);
  return {
    goods: from + below,
    weight: weight === '' ? 'any' : weight,
    charge: Math.round(sum(band.charges.map(({ fixed }) => fixed)) / 1e5) / 1e4,
    rate: Math.round(sum(band.charges.map(({ rate }) => rate)) * 1e6) / 1e6,
  };
}

describe('the page on delivery bands', () => {
  const rows = stated();

  test('works every case of the rules', () => {
    expect([...rows.keys()]).toEqual(Object.keys(CASES));
  });

  test.each(Object.entries(CASES))(
    'says of case %s what the engine makes of it',
    (name, { supplier, lanes, nuisance }) => {
      const job = {
        club: { currency: 'GBP', country: 'GB', settings: {} },
        asOf: '2026-11-20',
        rates: [{ code: 'eur', currency: 'EUR', on: '2026-11-19', rate: '0.85' }],
        lanes: lanes ?? [],
      };
      const parsed = Supplier.parse(supplier);
      const bands = bandsOf(parsed, {
        exchange: exchangeOf(job),
        customs: customsOf(job, parsed),
        nuisance: nuisance === undefined ? undefined : gbp(nuisance),
      });
      expect(bands.map(words)).toEqual(rows.get(name));
    },
  );
});
