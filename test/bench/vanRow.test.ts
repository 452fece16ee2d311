import { expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import { vanRow } from './vanRow.ts';

type Beside = Extract<Result['beside'], object>;

const gbp = (amount: string) => ({ amount, currency: 'GBP' });
const RAN = { besideSeconds: 10, cpuSeconds: 1, wallSeconds: 2, peakRssMb: 200 };
const PROOF = { status: 'bestSoFar', cost: gbp('200'), bound: gbp('199') };

/** A result of which nothing but this is looked at. */
const resultWith = (beside?: Partial<Beside>) => ({ proof: PROOF, beside }) as Result;

const fall = (fallPercent: number) => ({
  ...{ offer: 'o', supplier: 's', fallPercent, never: fallPercent === 100 },
  ...{ price: gbp('1'), priceAtMost: gbp('1') },
});
const mix = (proven: boolean) => ({
  ...{ suppliers: ['s'], unmet: 0, total: gbp('1'), more: gbp('0'), cost: gbp('1'), bound: gbp('1'), proven },
});

test('the van’s quote alone has its gap, and nothing beside it', () => {
  expect(vanRow(resultWith(), RAN)).toMatchObject({ proven: false, gapPercent: 0.5, beside: [], losing: 0 });
});

test('what lies beside the van is counted by part, proven or left; falls of 0 and of 100 % are no news', () => {
  const beside = resultWith({
    bySuppliers: [
      { atMost: 1, ...mix(true) },
      { atMost: 2, ...mix(false) },
    ],
    byDay: [],
    elsewhere: [
      { requirement: 'r', offer: 'o', supplier: 's', from: [], why: 'notWorked' },
      { requirement: 'q', offer: 'o', supplier: 's', from: [], why: 'nobodyElse' },
    ],
    falls: [fall(0), fall(0.1), fall(99.9), fall(100)],
    fallsUnknown: 3,
    unfinished: [
      { part: 'elsewhere', left: 1, why: 'time' },
      { part: 'byDay', left: 2, why: 'time' },
      { part: 'byDay', left: 3, why: 'number' },
    ],
  });
  expect(vanRow(beside, RAN)).toMatchObject({
    beside: [
      { part: 'bySuppliers', rows: 2, proven: 1, left: 0 },
      { part: 'byDay', rows: 0, proven: 0, left: 5 },
      { part: 'otherSet', rows: 0, proven: 0, left: 0 },
      { part: 'elsewhere', rows: 2, proven: 1, left: 1 },
      { part: 'falls', rows: 7, proven: 4, left: 0 },
    ],
    losing: 7,
    fallsKnown: 2,
  });
});
