import type { Random } from '../../random.ts';
import { jobOf, partOf, type OfferInput, type SupplierInput, type Terms } from '../jobOf.ts';
import { money } from './make.ts';
import type { Theme } from './theme.ts';

/**
 * Pieces of one pound each, or of 1.25 with a seller's tax of 25 % that is taken off, and a pound of postage: parcels of
 * just the value of a threshold.
 */
export const exactly: Theme = {
  name: 'exactly',
  rules: [
    'exactlyThere',
    'valueIs',
    'dutyThreshold',
    'taxThreshold',
    'clearanceThreshold',
    'dutyOn',
    'taxTakenOff',
  ],
  make: (random) => {
    const requirements = ['a', 'b']
      .slice(0, random.pick([1, 1, 2]))
      .map((part) => ({ part, needed: random.whole(1, 4) }));
    const pounds = requirements.reduce((sum, { needed }) => sum + needed, 0);
    const shops = ['south', 'west', 'north'].slice(0, random.whole(1, 3));
    return jobOf(
      {
        looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
        lines: [{ loom: 'loom', quantity: 1 }],
      },
      {
        parts: requirements.map(({ part }) => partOf('clip', part)),
        suppliers: shops.map((code) => shopOf(code, random)),
        offers: shops.flatMap((supplier) =>
          requirements.map(({ part }): OfferInput => ({
            form: 'pack',
            code: `${part}-${supplier}`,
            part,
            supplier,
            packCount: 1,
            packPrice: money(
              { south: 125, west: random.pick([100, 105]), north: random.whole(120, 160) }[supplier] ?? 0,
              'GBP',
            ),
          })),
        ),
        lanes: [laneOf('FR', 25, pounds, random), laneOf('DE', 0, pounds, random)],
      },
    );
  },
};

/** North at home; south with tax in its prices, west without. */
function shopOf(code: string, random: Random): SupplierInput {
  const charge = code === 'south' ? 125 : 100;
  return {
    code,
    name: code,
    currency: 'GBP',
    country: { south: 'FR', west: 'DE' }[code] ?? 'GB',
    ...(code === 'south' && { pricesInclude: 'tax' }),
    ...(random.percent(80) && {
      postage: { by: 'value', bands: [{ fromValue: money(0, 'GBP'), charge: money(charge, 'GBP') }] },
    }),
  };
}

function laneOf(from: string, sellerTaxPercent: number, pounds: number, random: Random) {
  const value = () => money(100 * Math.max(0, pounds + random.pick([-1, 0, 0, 1, 1])), 'GBP');
  return {
    code: `from-${from}`,
    from,
    to: 'GB',
    taxPercent: random.pick([5, 20]),
    dutyPercent: random.pick([2, 10]),
    dutyOn: random.pick(['goods', 'goods', 'goodsAndPostage'] as const),
    valueIs: random.pick(['goods', 'goodsAndPostage', 'goodsAndPostage'] as const),
    exactlyThere: random.pick(['free', 'charged', 'charged'] as const),
    sellerTaxPercent,
    ...(random.percent(70) && { dutyOverValue: value() }),
    ...(random.percent(70) && { taxOverValue: value() }),
    clearanceFee: money(random.whole(10, 60), 'GBP'),
    ...(random.percent(80) && { clearanceOverValue: value() }),
  } satisfies NonNullable<Terms['lanes']>[number];
}
