import { randomBelow } from './randomBelow.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';

/** How much there is to choose from, and which of the instances of that size it is. */
interface Size {
  parts: number;
  suppliers: number;
  seed: number;
}

const SLOW: Size = { parts: 40, suppliers: 40, seed: 1 };

/**
 * A job that the solver cannot prove within half a minute or so: every supplier sells every part in packs of its own
 * counts at nearly the same price a piece, charges postage, and sends free from a value that fits no round number of
 * packs. The same seed makes the same job.
 */
export function slowJob({ parts, suppliers, seed }: Size = SLOW): JobInput {
  const below = randomBelow(seed);
  const between = (low: number, high: number) => low + below(high - low + 1);
  const numbers = (count: number) => Array.from({ length: count }, (_, index) => index + 1);
  const partList = numbers(parts).map((n) => ({
    code: `part-${n}`,
    worth: between(23, 211),
    need: between(101, 997),
  }));
  const supplierList = numbers(suppliers).map((n) => ({
    code: `shop-${n}`,
    postage: between(1295, 3895),
    freeFrom: between(23_110, 79_190),
  }));
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-01',
    club: {
      currency: 'GBP',
      settings: {
        sparePercent: 0,
        spareMinimum: 0,
        spareConfidencePercent: 0,
        solverSeconds: 300,
        besideSeconds: 0,
      },
    },
    parts: partList.map(({ code }) => ({ kind: 'consumable', code, description: `Part ${code}` })),
    suppliers: supplierList.map(({ code, postage, freeFrom }) => ({
      code,
      name: `Shop ${code}`,
      currency: 'GBP',
      postage: {
        by: 'value',
        bands: [
          { fromValue: pence(0), charge: pence(postage) },
          { fromValue: pence(freeFrom), charge: pence(0) },
        ],
      },
    })),
    offers: partList.flatMap(({ code: part, worth }) =>
      supplierList.map(({ code: supplier }) => {
        const packCount = between(7, 29);
        return {
          form: 'pack',
          code: `${part}-${supplier}`,
          supplier,
          part,
          packCount,
          packPrice: pence(Math.round((packCount * worth * between(96, 104)) / 100)),
        };
      }),
    ),
    looms: [
      {
        code: 'slow',
        name: 'A loom of counted parts',
        parts: partList.map(({ code, need }) => ({ part: code, quantity: need })),
      },
    ],
    request: { looms: [{ loom: 'slow', quantity: 1 }] },
  };
}

function pence(count: number) {
  return { amount: (count / 100).toFixed(2), currency: 'GBP' };
}
