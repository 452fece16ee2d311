import { randomFrom, type Random } from '../sourcing/random.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { pence } from './pence.ts';

type Offer = JobInput['offers'][number];

const BASES = ['black', 'green', 'brown', 'red', 'blue', 'white', 'purple', 'yellow'] as const;
const AREAS_MM2 = [0.5, 1, 1.5, 2, 3] as const;

/** One wire: its pieces, mm, and what a metre is about worth, pence. */
interface Wire {
  code: string;
  base: (typeof BASES)[number];
  areaMm2: number;
  piecesMm: readonly number[];
  metre: number;
}

/**
 * One colour of 45 lengths of 150 to 4,200 mm, 350 to 700 pieces, out of reels of 100 m; in even seeds hanks of 25 m lie
 * beside them, in every third another shop does. Cut to the millimetre. The same seed makes the same job.
 */
export function reelsJob(seed: number): JobInput {
  const random = randomFrom(seed * 7_919 + 100);
  const piecesMm = piecesOf(45, random.whole(350, 700), [150, 4_200], random);
  const wire: Wire = { code: 'wire', base: 'black', areaMm2: 1, piecesMm, metre: random.whole(28, 60) };
  const shops = ['shop-1', ...(seed % 3 === 0 ? ['shop-2'] : [])];
  const lengthsM = seed % 2 === 0 ? [25, 100] : [100];
  const offers = shops.flatMap((shop) => lengthsM.map((metres) => hank(wire, shop, metres, random)));
  return wiresJob([wire], shops, offers, random);
}

/**
 * Forty colours at two shops, each of 4 to 16 lengths and 8 to 60 pieces, in one to three kinds of hanks and reels, many
 * also by the metre; one colour comes from one shop. Cut to the millimetre. The same seed makes the same job.
 */
export function coloursJob(seed: number): JobInput {
  const random = randomFrom(seed * 7_919 + 40);
  const wires = AREAS_MM2.flatMap((areaMm2) =>
    BASES.map((base): Wire => {
      const distinct = random.whole(4, 16);
      const count = distinct + random.whole(4, 44);
      const metre = Math.round(areaMm2 * random.whole(22, 40) + 12);
      return {
        ...{ code: `wire-${areaMm2}-${base}`, base, areaMm2, metre },
        piecesMm: piecesOf(distinct, count, [150, 4_200], random),
      };
    }),
  );
  const shops = ['shop-1', 'shop-2'];
  const offers = wires.flatMap((wire) =>
    shops.flatMap((shop): Offer[] => {
      const lengths = [5, 10, 25, 50, 100].filter(() => random.percent(35));
      const byTheMetre = lengths.length === 0 || random.percent(50);
      return [
        ...lengths.map((metres) => hank(wire, shop, metres, random)),
        ...(byTheMetre
          ? [
              {
                form: 'metre' as const,
                code: `${shop}-${wire.code}-m`,
                supplier: shop,
                part: wire.code,
                pricePerMetre: pence(Math.round((wire.metre * random.whole(92, 112)) / 100)),
              },
            ]
          : []),
      ];
    }),
  );
  return wiresJob(wires, shops, offers, random);
}

/** Longer ones are cheaper a metre. */
function hank(wire: Wire, shop: string, metres: number, random: Random): Offer {
  const price = wire.metre * metres ** 0.9 * (random.whole(93, 107) / 100);
  return {
    form: 'length',
    code: `${shop}-${wire.code}-${metres}m`,
    supplier: shop,
    part: wire.code,
    nominalMm: metres * 1_000,
    packPrice: pence(Math.round(price)),
  };
}

/** So many pieces of so many distinct lengths, each at least once. */
function piecesOf(
  distinct: number,
  count: number,
  [least, most]: readonly [number, number],
  random: Random,
): number[] {
  const lengths = new Set<number>();
  while (lengths.size < distinct) lengths.add(random.whole(least, most));
  const all = [...lengths];
  return [...all, ...Array.from({ length: count - distinct }, () => random.pick(all))];
}

/** Wires that are cut to just what is stated, without spares or allowances. */
function wiresJob(
  wires: readonly Wire[],
  shops: readonly string[],
  offers: Offer[],
  random: Random,
): JobInput {
  const goods = wires.reduce(
    (sum, { piecesMm, metre }) => sum + (metre * piecesMm.reduce((all, mm) => all + mm, 0)) / 1_000,
    0,
  );
  const bare = { point: 'p', join: 'bare' } as const;
  const sized = ({ base, areaMm2 }: Wire) => ({
    cableType: 'thin-wall',
    size: { system: 'mm2' as const, areaMm2 },
    colour: { base },
  });
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-01',
    club: {
      currency: 'GBP',
      settings: {
        ...{ slackPercent: 0, redoMm: 0, stripMm: 0, tailMm: 0, spareWirePercent: 0 },
        ...{ spareWirePieces: 0, spareWireMinimumMm: 0, besideSeconds: 0 },
      },
    },
    parts: wires.map((wire) => ({
      kind: 'wire' as const,
      code: wire.code,
      description: `Thin-wall ${wire.areaMm2} mm², ${wire.base}`,
      ...sized(wire),
    })),
    suppliers: shops.map((code) => ({
      code,
      name: `Shop ${code}`,
      currency: 'GBP',
      postage: {
        by: 'value',
        bands: [
          { fromValue: pence(0), charge: pence(random.whole(250, 895)) },
          // About where half of all is worth as much.
          { fromValue: pence(Math.round((goods * random.whole(35, 75)) / 100)), charge: pence(0) },
        ],
      },
    })),
    offers,
    looms: [
      {
        code: 'wires',
        name: 'Wires alone',
        points: [{ id: 'p', kind: 'stud' }],
        wires: wires.flatMap((wire) =>
          wire.piecesMm.map((mm, at) => ({
            id: `${wire.code}-${at}`,
            ...sized(wire),
            from: bare,
            to: bare,
            length: { mm, basis: 'tipToTip' as const },
          })),
        ),
      },
    ],
    request: { looms: [{ loom: 'wires', quantity: 1 }] },
  };
}
