import type { Random } from '../../random.ts';
import { jobOf, partOf, type PartInput, type Terms } from '../jobOf.ts';
import { chargesOf, lengthOf, metreOf, packOf, sum, type Making } from './make.ts';
import { pieceMm } from './cutting.ts';
import { shopsOf, type Theme } from './theme.ts';

type FitInput = NonNullable<Terms['fits']>[number];

/** Parts that stand in for others, some of them needed themselves, confirmed, proposed or refuted. */
export const standing: Theme = {
  name: 'standing',
  rules: ['standIns', 'standInsShared', 'standInStatus', 'stock', 'breaks'],
  make: (random) => (random.percent(85) ? countedJob(random) : wireJob(random)),
};

/** What is said of a part in place of another: by itself, by a fit, or by both. */
function said(
  random: Random,
  from: string,
  to: string,
): { standsInFor?: PartInput['standsInFor']; fits: FitInput[] } {
  const fit = (status: 'confirmed' | 'proposed' | 'refuted') => ({
    from,
    to,
    relation: 'standsInFor' as const,
    status,
  });
  return random.pick([
    { standsInFor: [{ part: to, confirmedBy: 'Ann' }], fits: [] },
    { standsInFor: [{ part: to, confirmedBy: 'Ann' }], fits: [] },
    { standsInFor: [{ part: to }], fits: [] },
    { standsInFor: [{ part: to, confirmedBy: 'Ann' }], fits: [fit('refuted')] },
    { standsInFor: [{ part: to }], fits: [fit('confirmed')] },
    { fits: [fit('confirmed')] },
    { fits: [fit('proposed')] },
  ]);
}

const accepting = (random: Random) => ({
  standInsAccepted: random
    .pick([['confirmed'], ['confirmed'], ['confirmed', 'proposed'], []] as const)
    .slice(),
});

function countedJob(random: Random) {
  const suppliers = shopsOf(random, 1);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 30 };
  // b, needed itself, may stand in for a; e, that nobody needs, too.
  const requirements = ['a', 'b', ...(random.percent(40) ? ['c'] : [])].map((part) => ({
    part,
    needed: random.whole(1, 4),
    piece: part === 'b' ? random.whole(20, 50) : random.whole(60, 120),
  }));
  const b = said(random, 'b', 'a');
  const e = said(random, 'e', random.pick(['a', 'a', 'b']));
  const family = random.percent(25) ? { family: 'f' } : {};
  const offered = [...requirements, { part: 'e', needed: random.whole(1, 4), piece: random.whole(30, 90) }];
  return jobOf(
    {
      looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      parts: [
        partOf('clip', 'a', family),
        partOf('clip', 'b', { ...family, ...(b.standsInFor && { standsInFor: b.standsInFor }) }),
        partOf('clip', 'c'),
        partOf('clip', 'e', e.standsInFor ? { standsInFor: e.standsInFor } : {}),
      ],
      fits: [...b.fits, ...e.fits],
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency: 'GBP',
        ...chargesOf(random, 'GBP', { often: 50, level: 60, value: 400 }),
      })),
      offers: offered.flatMap((requirement) =>
        Array.from({ length: random.whole(1, 2) }, (_, index) =>
          packOf(`${requirement.part}-${index}`, requirement.part, requirement, making),
        ),
      ),
      stock: offered.flatMap(({ part }) =>
        random.percent(12) ? [{ form: 'pieces' as const, code: `my-${part}`, part, count: 1 }] : [],
      ),
      request: { settings: accepting(random) },
    },
  );
}

function wireJob(random: Random) {
  const suppliers = shopsOf(random, 1);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 30 };
  const pieces = Array.from({ length: random.whole(2, 3) }, () => pieceMm('red', random));
  const totalMm = sum(pieces);
  const blue = said(random, 'blue', 'red');
  const metre = random.whole(60, 120);
  return jobOf(
    {
      looms: { loom: { wires: pieces.map((mm) => ({ colour: 'red', mm })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      parts: [
        partOf('red', 'red'),
        partOf('blue', 'blue', blue.standsInFor ? { standsInFor: blue.standsInFor } : {}),
      ],
      fits: blue.fits,
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency: 'GBP',
        ...chargesOf(random, 'GBP', { often: 30, level: 30, value: 300 }),
      })),
      offers: ['red', 'blue'].flatMap((part) => {
        const dear = part === 'red' ? metre * 1.3 : metre;
        return [
          metreOf(`${part}-metre`, part, { totalMm, metre: dear }, making),
          lengthOf(
            `${part}-length`,
            part,
            { nominalMm: random.pick([1000, 2000, 3000]), enough: 2, metre: dear },
            making,
          ),
        ];
      }),
      request: { settings: { ...accepting(random), oneColourOneSupplier: random.percent(50) } },
    },
  );
}
