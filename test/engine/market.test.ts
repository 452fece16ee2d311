import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { marketOf } from '../../worker/engine/job/market.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { offerParts } from '../../worker/engine/model/offer.ts';
import { orderOf } from '../../worker/engine/order.ts';
import { requirementsOf } from '../../worker/engine/sourcing/asked/requirements.ts';
import { offersFor } from '../../worker/engine/sourcing/offered/usableOffers.ts';
import { arbitraryJob } from './arbitraryJob.ts';
import {
  bought,
  byTheMetre,
  jobOf,
  mm2,
  pack,
  points,
  priced,
  supplier,
  unhurried,
  wire,
} from './fixtures.ts';

const red = (areaMm2: number): JobInput['parts'][number] => ({
  kind: 'wire',
  code: `red-${areaMm2}`,
  description: `Red ${areaMm2}`,
  cableType: 'thin-wall',
  size: mm2(areaMm2),
  colour: { base: 'red' },
});

type Offers = JobInput['offers'];

/** One wire of 1 mm² that may be the next size up; 2 mm² is on sale, 1 mm² only as given. */
const job = (offers: Offers, more: Partial<JobInput> = {}) =>
  jobOf({
    parts: [red(1), red(2)],
    suppliers: [supplier('s'), supplier('other')],
    offers: [byTheMetre('two', 's', 'red-2', '1'), ...offers],
    loom: { points: points('A', 'B'), wires: [wire('1', { colourRule: 'nextSizeUp' })] },
    ...more,
  });
const boughtOf = async (...given: Parameters<typeof job>) => Object.keys(bought(await priced(job(...given))));
const one = (more: object, from = 'other') => [byTheMetre('one', from, 'red-1', '1', more)];
const request = (more: object) => ({ request: { looms: [{ loom: 'l', quantity: 1 }], ...more } });

describe('a wire whose own size cannot be bought comes in the next size up', () => {
  test.each<[why: string, ...given: Parameters<typeof job>]>([
    ['none is in stock', one({ stockMm: 0 })],
    ['less is in stock than the least order', one({ stockMm: 500, minimumMm: 1000 })],
    ['its condition is not accepted', one({ condition: 'used' })],
    [
      'it is priced in another currency than its supplier’s',
      [
        {
          ...byTheMetre('one', 'other', 'red-1', '1'),
          pricePerMetre: { amount: '1', currency: 'EUR' },
        } as Offers[number],
      ],
    ],
    [
      'its supplier’s currency has no rate',
      [
        {
          ...byTheMetre('one', 'far', 'red-1', '1'),
          pricePerMetre: { amount: '1', currency: 'EUR' },
        } as Offers[number],
      ],
      { suppliers: [supplier('s'), { ...supplier('far'), currency: 'EUR' }] },
    ],
    ['its supplier is shut out', one({}), request({ shutOut: ['other'] })],
    ['it comes too late', one({ leadDays: 30 }), request({ neededBy: '2026-03-10' })],
    ['it is sold in packs', [pack('one', 'other', 'red-1', 5, '1')]],
  ])('where %s', async (_why, ...given) => {
    expect(await boughtOf(...given)).toEqual(['two']);
  });

  test('and in its own where all of that is well', async () => {
    expect(await boughtOf(one({ stockMm: 5000, leadDays: 3 }), request({ neededBy: '2026-03-10' }))).toEqual([
      'one',
    ]);
  });

  test('and in its own where a later order is still in time for it', async () => {
    const clip = { kind: 'consumable' as const, code: 'red-clip', description: 'Clip' };
    const late = job([...one({ leadDays: 30 }), pack('clip', 's', 'red-clip', 1, '1')], {
      parts: [red(1), red(2), clip],
      request: {
        looms: [
          { loom: 'l', quantity: 1, wave: 2 },
          { loom: 'first', quantity: 1 },
        ],
        neededBy: '2026-03-10',
      },
      looms: [
        {
          code: 'l',
          name: 'Later',
          points: points('A', 'B'),
          wires: [wire('1', { colourRule: 'nextSizeUp' })],
        },
        { code: 'first', name: 'First', parts: [{ part: 'red-clip', quantity: 1 }] },
      ],
    });
    expect(Object.keys(bought(await priced(late))).sort()).toEqual(['clip', 'one']);
  });
});

test('what sourcing can use is what the roll-up was told that there is', () => {
  fc.assert(
    fc.property(arbitraryJob, (given) => {
      const working = normaliseJob(given);
      const market = marketOf(working);
      const { order, values } = orderOf(working, unhurried);
      const { requirements } = requirementsOf(working, order.requirements, order.leftOut, {
        ...values,
        vetting: order.vetting,
      });
      for (const { offer, serves } of offersFor(working, requirements, market).usable)
        for (const { part } of serves) expect(market.has(part), `${part} of ${offer.code}`).toBe(true);
      for (const { offer, out, refusal } of market.listings)
        if ((out || refusal) && working.stock.length === 0)
          for (const { part } of offerParts(offer))
            if (market.has(part))
              expect(
                market.listings.some(
                  (other) =>
                    !other.out &&
                    !other.refusal &&
                    offerParts(other.offer).some((sold) => sold.part === part),
                ),
              ).toBe(true);
    }),
    { numRuns: 150 },
  );
});
