import type { Random } from '../../random.ts';
import { jobOf, partOf, type LoomWants, type Terms } from '../jobOf.ts';
import { chargesOf, lengthOf, metreOf, packOf, sum, type Making } from './make.ts';
import { pieceMm } from './cutting.ts';
import { shopsOf, type Theme } from './theme.ts';

/** Pieces on the shelf, of which looms may take some first. */
export const shelfPieces: Theme = {
  name: 'shelfPieces',
  rules: ['stockPieces', 'stockTakenFirst', 'stock', 'breaks'],
  make: piecesJob,
};

/** Lengths on the shelf, beside what one supplier sells. */
export const shelfLengths: Theme = {
  name: 'shelfLengths',
  rules: [
    'stockLengths',
    'oneColourOneSupplierExemptsStock',
    'oneColourOneSupplier',
    'wholePieces',
    'hankWithMetre',
  ],
  make: lengthsJob,
};

const terms = (random: Random, suppliers: readonly string[], often: number): Pick<Terms, 'suppliers'> => ({
  suppliers: suppliers.map((code) => ({
    code,
    name: code,
    currency: 'GBP',
    ...chargesOf(random, 'GBP', { often, level: 60, value: 300 }),
  })),
});

function piecesJob(random: Random) {
  const suppliers = shopsOf(random, 1);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 30 };
  const requirements = ['a', 'b', 'c'].slice(0, random.whole(1, 3)).map((part) => ({
    part,
    needed: random.whole(2, 6),
    piece: random.whole(40, 120),
  }));
  const counted: NonNullable<LoomWants['counted']> = requirements.flatMap(({ part, needed }) => [
    { part, quantity: needed },
    ...(random.percent(80) ? [{ part, quantity: random.whole(1, 2), supply: 'stock' as const }] : []),
  ]);
  return jobOf(
    { looms: { loom: { counted } }, lines: [{ loom: 'loom', quantity: 1 }] },
    {
      ...terms(random, suppliers, 50),
      parts: requirements.map(({ part }) => partOf('clip', part)),
      stock: requirements.flatMap(({ part, needed }) =>
        random.percent(95)
          ? [{ form: 'pieces' as const, code: `my-${part}`, part, count: random.whole(1, needed) }]
          : [],
      ),
      offers: requirements.flatMap((requirement) =>
        Array.from({ length: random.whole(1, 3) }, (_, index) =>
          packOf(`${requirement.part}-${index}`, requirement.part, requirement, making),
        ),
      ),
      request: random.percent(10) ? { useStock: false } : {},
    },
  );
}

function lengthsJob(random: Random) {
  const suppliers = shopsOf(random);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 25 };
  const pieces = Array.from({ length: random.whole(2, 4) }, () => pieceMm('red', random));
  const metre = random.whole(60, 120);
  const totalMm = sum(pieces);
  return jobOf(
    {
      looms: { loom: { wires: pieces.map((mm) => ({ colour: 'red' as const, mm })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      ...terms(random, suppliers, 15),
      parts: [partOf('red', 'red')],
      stock: Array.from({ length: random.pick([1, 1, 2]) }, (_, index) => ({
        form: 'length' as const,
        code: `my-${index}`,
        part: 'red',
        count: random.pick([1, 1, 2]),
        lengthMm: random.pick([600, 1000, 1500, 1999, 2000]),
      })),
      offers: Array.from({ length: random.whole(2, 4) }, (_, index) =>
        random.percent(45)
          ? metreOf(`red-${index}`, 'red', { totalMm, metre }, making)
          : lengthOf(
              `red-${index}`,
              'red',
              { nominalMm: random.pick([1000, 2000, 3000]), enough: 2, metre },
              making,
            ),
      ),
      request: { settings: { oneColourOneSupplier: random.percent(95) } },
    },
  );
}
