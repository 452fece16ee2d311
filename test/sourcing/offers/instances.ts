import type { Job } from '../../../worker/engine/model/job.ts';
import type { InstanceCurrency } from '../exactMoney.ts';
import { randomFrom, type Random } from '../random.ts';
import { neededBy } from './instanceNeeds.ts';
import { offersFor } from './instanceOffers.ts';
import { jobOf, type SupplierInput } from './jobOf.ts';
import { amountOf } from './money.ts';

export const INSTANCES = 480;
export const seeds = Array.from({ length: INSTANCES }, (_, index) => index + 1);

/**
 * A small job from a seed: up to 3 needs, 3 suppliers and 7 offers of every form. Three of five are about cutting, with
 * low charges, so that it pays to mix.
 */
export function instance(seed: number): Job {
  const random = randomFrom(seed);
  const currency = seed % 10 === 8 ? 'JPY' : seed % 10 === 9 ? 'KWD' : 'GBP';
  const cutting = seed % 5 < 3;
  const codes = ['north', 'south', 'west'].slice(0, random.pick(cutting ? [2, 3, 3] : [1, 2, 2, 3, 3]));
  const { wanted, parts, needed } = neededBy(random, cutting);
  const offers = offersFor(needed, { random, currency, suppliers: codes, cutting });
  return jobOf(wanted, {
    currency,
    parts,
    offers,
    suppliers: codes.map((code) => supplierOf(code, currency, cutting, random)),
    settings: {
      ...(random.percent(cutting ? 5 : 50) && { oneColourOneSupplier: false }),
      ...(random.percent(20) && {
        conditionsAccepted: random
          .pick([['new'], ['new', 'used'], ['new', 'oldStock', 'used', 'reproduction']] as const)
          .slice(),
      }),
    },
    cuttingStepMm: random.pick([1, 1, 5, 50]),
  });
}

function supplierOf(
  code: string,
  currency: InstanceCurrency,
  cutting: boolean,
  random: Random,
): SupplierInput {
  const money = (minor: number) => amountOf(minor, currency);
  const postage = postageOf(random, cutting, money);
  return {
    code,
    name: code,
    currency,
    ...(random.percent(cutting ? 10 : 40) && { minimumOrder: money(random.whole(150, 900)) }),
    ...(random.percent(cutting ? 15 : 35) && {
      handling: money(cutting ? random.whole(5, 40) : random.whole(30, 200)),
    }),
    ...(postage && { postage }),
  };
}

function postageOf(
  random: Random,
  cutting: boolean,
  money: (minor: number) => { amount: string; currency: string },
): SupplierInput['postage'] {
  const charge = cutting ? random.whole(5, 40) : random.whole(80, 300);
  const by = random.pick([
    cutting ? 'none' : 'value',
    'none',
    'value',
    'weight',
    'weight',
    'weight',
  ] as const);
  if (by === 'none') return undefined;
  if (by === 'value')
    return {
      by,
      bands: [
        { fromValue: money(0), charge: money(charge) },
        {
          fromValue: money(random.whole(300, 1200)),
          charge: money(random.pick([0, 0, Math.round(charge / 3)])),
        },
      ],
    };
  const first = random.pick([10, 20, 25, 40, 50, 60]);
  // Now and then the heavier parcel goes for less.
  const factor = random.percent(10) ? 0.5 : random.pick([1.5, 2, 3]);
  return {
    by,
    bands: [
      { fromG: 0, charge: money(charge) },
      { fromG: first, charge: money(Math.round(charge * factor)) },
      ...(random.percent(50) ? [{ fromG: first * 2, charge: money(Math.round(charge * factor * 1.5)) }] : []),
    ],
    ...(random.percent(60) && { freeFromValue: money(random.whole(300, 1200)) }),
  };
}
