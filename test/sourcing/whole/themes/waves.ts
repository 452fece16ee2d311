import type { Random } from '../../random.ts';
import { jobOf, partOf, type LoomWants, type Terms } from '../jobOf.ts';
import { chargesOf, lengthOf, metreOf, packOf, sum, type Making } from './make.ts';
import { pieceMm } from './cutting.ts';
import type { Theme } from './theme.ts';

/** Looms now and later: packs that last, samples, dates that only the first order must keep. */
export const waves: Theme = {
  name: 'waves',
  rules: ['waves', 'wavesCarryOver', 'samples', 'neededBy', 'offerLeadDays', 'breaks', 'stock'],
  make: countedJob,
};

/** Wires now and later, from lengths that last. */
export const laterCuts: Theme = {
  name: 'laterCuts',
  rules: [
    'waves',
    'wavesCarryOver',
    'neededBy',
    'offerLeadDays',
    'stock',
    'oneColourOneSupplier',
    'hankWithMetre',
  ],
  make: wireJob,
};

/** North is cheap, and often too late for the first order. */
const dated = (random: Random) => random.percent(20) && { leadDays: random.pick([2, 10, 21]) };

function terms(random: Random, suppliers: readonly string[]): Pick<Terms, 'suppliers'> {
  return {
    suppliers: suppliers.map((code) => ({
      code,
      name: code,
      currency: 'GBP',
      ...chargesOf(random, 'GBP', { often: 25, level: 40, value: 200 }),
      ...(code === 'north' ? random.percent(80) && { leadDays: random.pick([10, 21]) } : dated(random)),
    })),
  };
}

/** What offers are made of: the first of the suppliers and the others in turn, the first for less. */
const inTurn = (making: Making, index: number): Making => {
  const supplier = making.suppliers[index % making.suppliers.length] ?? 'north';
  return { ...making, suppliers: [supplier] };
};
const lessAt = (index: number, price: number) => (index % 2 === 0 ? price * 0.65 : price);

/** One loom now and again later, another only later, with parts that nothing before requirements. */
function countedJob(random: Random) {
  const suppliers = ['north', 'south'];
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 30 };
  const first = ['a', ...(random.percent(40) ? ['b'] : [])].map((part) => ({
    part,
    quantity: random.whole(1, 2),
  }));
  const sampled = random.percent(85);
  const later = sampled ? [{ part: 'c', quantity: random.whole(3, 4) }] : [];
  const three = !sampled && first.length === 1 && random.percent(30);
  const requirements = [
    ...first.map(({ part, quantity }) => ({ part, needed: 2 * quantity })),
    ...later.map(({ part, quantity }) => ({ part, needed: quantity })),
  ].map((requirement) => ({ ...requirement, piece: random.whole(40, 120) }));
  return jobOf(
    {
      looms: { first: { counted: first }, ...(sampled && { later: { counted: later } }) },
      lines: [
        { loom: 'first', quantity: 1 },
        { loom: 'first', quantity: random.whole(1, 2), wave: 2 },
        ...(three ? [{ loom: 'first', quantity: 1, wave: 3 }] : []),
        ...(sampled ? [{ loom: 'later', quantity: 1, wave: 2 }] : []),
      ],
    },
    {
      ...terms(random, suppliers),
      parts: requirements.map(({ part }) => partOf('clip', part)),
      offers: requirements.flatMap((requirement) =>
        Array.from({ length: requirements.length === 3 && requirement.part !== 'c' ? 1 : 2 }, (_, index) => ({
          ...packOf(
            `${requirement.part}-${index}`,
            requirement.part,
            { ...requirement, piece: lessAt(index, requirement.piece) },
            inTurn(making, index),
          ),
          ...dated(random),
        })),
      ),
      request: {
        ...(random.percent(85) && { neededBy: '2026-12-06' }),
        ...(sampled && random.percent(90) && { samples: random.whole(1, 2) }),
      },
    },
  );
}

function wireJob(random: Random) {
  const suppliers = ['north', 'south'];
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 25 };
  const pieces = Array.from({ length: random.whole(1, 2) }, () => pieceMm('red', random));
  const metre = random.whole(60, 120);
  const totalMm = 2 * sum(pieces);
  // No offer has enough by the metre.
  const isShort = random.percent(30);
  const loom: LoomWants = { wires: pieces.map((mm) => ({ colour: 'red' as const, mm })) };
  return jobOf(
    {
      looms: { loom },
      lines: [
        { loom: 'loom', quantity: 1 },
        { loom: 'loom', quantity: random.pick(pieces.length > 1 ? [1] : [1, 1, 2]), wave: 2 },
      ],
    },
    {
      ...terms(random, suppliers),
      parts: [partOf('red', 'red')],
      offers: Array.from({ length: random.whole(2, 3) }, (_, index) => {
        const code = `red-${index}`;
        const offer = random.percent(isShort ? 90 : 40)
          ? {
              ...metreOf(code, 'red', { totalMm, metre: lessAt(index, metre) }, inTurn(making, index)),
              ...(isShort && { stockMm: Math.floor((totalMm * random.pick([0.4, 0.5, 0.7])) / 500) * 500 }),
            }
          : lengthOf(
              code,
              'red',
              {
                nominalMm: random.pick([1000, 2000, 2000, 3000, 5000]),
                enough: 2,
                metre: lessAt(index, metre),
              },
              inTurn(making, index),
            );
        return { ...offer, ...dated(random) };
      }),
      request: {
        ...(random.percent(85) && { neededBy: '2026-12-06' }),
        settings: { oneColourOneSupplier: random.percent(75) },
      },
    },
  );
}
