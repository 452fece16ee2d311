import { randomFrom, type Random } from '../sourcing/random.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { pence } from './pence.ts';

const PIECES = 1_000;
const DISTINCT = 100;
const SHORTEST_MM = 120;
const LONGEST_MM = 2_400;

/**
 * Four lengths each, mm: hanks and reels out of which many pieces come, and lengths out of which a few do. So many times
 * as long costs that many times as much to this power.
 */
const KINDS = [
  { lengthsMm: [5_000, 10_000, 25_000, 50_000], power: 0.88 },
  { lengthsMm: [3_000, 4_000, 6_000, 10_000], power: 0.96 },
] as const;

/**
 * 1,000 pieces of one sleeve, of 100 distinct lengths of 120 to 2,400 mm, out of four lengths. Odd seeds buy hanks and
 * reels, even ones shorter lengths. One supplier sells all four; in every third job another sells two of them. Prices are
 * each their own, longer lengths cheaper a metre; postage falls to nothing from half to the whole of what the pieces may
 * cost. The same seed makes the same job.
 */
export function cuttingJob(seed: number): JobInput {
  const random = randomFrom(seed * 7_919);
  const pieces = piecesOf(random);
  const metres = pieces.reduce((sum, mm) => sum + mm, 0) / 1_000;
  const { lengthsMm, power } = KINDS[(seed + 1) % 2] ?? KINDS[0];
  // Pence for a length of 1 m.
  const metre = random.whole(40, 120);
  const shops = ['shop-1', ...(seed % 3 === 0 ? ['shop-2'] : [])];
  const offers = shops.flatMap((supplier, shop) =>
    lengthsMm
      .filter((_, index) => shop === 0 || index % 2 === seed % 2)
      .map((nominalMm) => {
        const priced = metre * (nominalMm / 1_000) ** power * (random.whole(960, 1_040) / 1_000);
        return {
          form: 'length' as const,
          code: `${supplier}-${nominalMm}`,
          supplier,
          part: 'sleeve',
          nominalMm,
          packPrice: pence(Math.round(priced)),
        };
      }),
  );
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-01',
    club: { currency: 'GBP', settings: { spareCoveringPercent: 0, solverSeconds: 120 } },
    parts: [{ kind: 'sleeve', code: 'sleeve', description: 'Sleeve', sleeveType: 'pvc' }],
    suppliers: shops.map((code) => ({
      code,
      name: `Shop ${code}`,
      currency: 'GBP',
      postage: {
        by: 'value',
        bands: [
          { fromValue: pence(0), charge: pence(random.whole(250, 895)) },
          {
            fromValue: pence(Math.round((metres * metre * random.whole(40, 100)) / 100)),
            charge: pence(0),
          },
        ],
      },
    })),
    offers,
    looms: [
      {
        code: 'sleeves',
        name: 'Sleeves alone',
        coverings: pieces.map((mm, index) => ({
          id: `c${index}`,
          kind: 'pvc',
          part: 'sleeve',
          lengthMm: mm,
        })),
      },
    ],
    request: { looms: [{ loom: 'sleeves', quantity: 1 }] },
  };
}

/** So many distinct lengths, each at least once. */
function piecesOf(random: Random): number[] {
  const distinct = new Set<number>();
  while (distinct.size < DISTINCT) distinct.add(random.whole(SHORTEST_MM, LONGEST_MM));
  const all = [...distinct];
  return [...all, ...Array.from({ length: PIECES - DISTINCT }, () => random.pick(all))];
}
