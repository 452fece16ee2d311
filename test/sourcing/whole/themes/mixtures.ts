import type { Random } from '../../random.ts';
import { jobOf, partOf, type OfferInput } from '../jobOf.ts';
import { chargesOf, fine, money } from './make.ts';
import type { Theme } from './theme.ts';

/**
 * Pieces that fill a cheap fixed length, and short ones that are best cut from a length by the metre of another supplier,
 * of which there is little: one colour from one supplier, and one length by the metre, cost.
 */
export const mixtures: Theme = {
  name: 'mixtures',
  rules: ['oneColourOneSupplier', 'hankWithMetre', 'stock', 'wholePieces'],
  make: (random) => {
    const part = random.pick(['red', 'red', 'red', 'sleeve'] as const);
    const suppliers = ['north', 'south', 'west'];
    const pieces = [
      ...Array.from({ length: random.whole(1, 2) }, () => 2000 - random.pick([0, 0, 20, 100])),
      ...Array.from({ length: random.whole(1, 2) }, () => random.pick([300, 400, 480, 500])),
    ];
    const metre = random.whole(60, 120);
    const [hankShop, firstShop, secondShop] = random.percent(60)
      ? ['north', 'south', 'west']
      : ['north', 'north', 'south'];
    const offers: OfferInput[] = [
      hank('hank-2', part, hankShop ?? '', { nominalMm: 2000, metre: metre * 0.75 }, random),
      byMetre('metre-1', part, firstShop ?? '', metre, random),
      byMetre('metre-2', part, secondShop ?? '', metre * 1.2, random),
      ...(random.percent(40)
        ? [hank('hank-1', part, random.pick(suppliers), { nominalMm: 1000, metre: metre * 0.9 }, random)]
        : []),
    ];
    const mm = (length: number) => ({ colour: 'red' as const, mm: length });
    const covering = (length: number) => ({ kind: 'pvc' as const, part: 'sleeve', mm: length });
    return jobOf(
      {
        looms: { loom: part === 'red' ? { wires: pieces.map(mm) } : { coverings: pieces.map(covering) } },
        lines: [{ loom: 'loom', quantity: 1 }],
      },
      {
        parts: [partOf(part, part)],
        suppliers: suppliers.map((code) => ({
          code,
          name: code,
          currency: 'GBP',
          ...chargesOf(random, 'GBP', { often: 8, level: 15, value: 200 }),
        })),
        offers,
        request: { settings: { oneColourOneSupplier: random.percent(85) } },
      },
    );
  },
};

function hank(
  code: string,
  part: string,
  supplier: string,
  { nominalMm, metre }: { nominalMm: number; metre: number },
  random: Random,
): OfferInput {
  const price = (((metre * nominalMm) / 1000) * random.whole(85, 115)) / 100;
  return {
    form: 'length',
    code,
    part,
    supplier,
    nominalMm,
    packPrice: money(fine(price, random), 'GBP'),
    ...(random.percent(35) && { stockPacks: random.whole(1, 2) }),
  };
}

function byMetre(code: string, part: string, supplier: string, metre: number, random: Random): OfferInput {
  return {
    form: 'metre',
    code,
    part,
    supplier,
    pricePerMetre: money(fine((metre * random.whole(85, 115)) / 100, random), 'GBP'),
    minimumMm: 500,
    stepMm: random.pick([500, 500, 1000]),
    ...(random.percent(55) && { stockMm: random.pick([500, 500, 1000, 2000]) }),
  };
}
