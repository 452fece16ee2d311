import { describe, expect, test } from 'vitest';
import type { Job } from '../../worker/engine/model/job.ts';
import { Cancelled } from '../../worker/engine/model/control.ts';
import { OfferNotUsable } from '../../worker/engine/model/notUsable.ts';
import { Stopped } from '../../worker/engine/model/stopped.ts';
import { WinningPrice } from '../../worker/engine/model/winningPrice.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import {
  byTheMetre,
  consumable,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  supplier,
  unhurried,
  wire,
  wirePart,
} from '../engine/fixtures.ts';

// Every sum here is worked in its comment; prices are invented.
const asked = async (job: Job, offer: string) =>
  WinningPrice.parse(await winningPrice(job, offer, unhurried));

/** "wins 1.00, not 1.01" */
const said = ({ outcome, at, losesAt }: WinningPrice) =>
  [outcome, at?.prices.first.amount, losesAt && `not ${losesAt.first.amount}`].filter(Boolean).join(' ');

describe('an offer that is in no cheapest mix', () => {
  test('wins at the price at which it is as cheap as the others, since then it is as good', async () => {
    const job = needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20')],
    );
    const answer = await asked(job, 'e');
    expect(said(answer)).toBe('wins 1.00 not 1.01');
    // 1.20 to 1.00 is a sixth, 16.66… %, rounded so that the fall is enough.
    expect(answer.at?.changePercent).toBe(-16.6667);
    expect(answer.without.total).toEqual(gbp('3.00'));
    expect(answer.losesAt?.cost).toEqual(gbp('3.01'));
    expect(answer.proof).toMatchObject({ status: 'proven', elsewhere: 'settled' });
  });

  test('is bought with what comes with it: its parcel must be paid too', async () => {
    // 10 × 1.00 from ash. From elm 10 × p + 3.50 postage: not above 10.00 up to p = 0.65.
    const job = needing(
      { tie: 10 },
      [supplier('ash'), supplier('elm', ['0', '3.50'])],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20')],
    );
    const answer = await asked(job, 'e');
    expect(said(answer)).toBe('wins 0.65 not 0.66');
    expect(answer.at).toMatchObject({ buys: [{ packs: 10 }], total: gbp('10.00'), cost: gbp('10.00') });
  });

  test('lowers its breaks in the same proportion, down to what a price may carry', async () => {
    // A pack of ash: 10 at 0.90 = 9.00. Elm, 1.50 and from 10 on 1.00: at p the break is p × 2/3, so 10 × p × 2/3 ≤ 9 up
    // to p = 1.35; at 1.36 it is 0.9066…, 9.066 in all.
    const job = needing(
      { tie: 10 },
      [supplier('ash'), supplier('elm')],
      [
        pack('a', 'ash', 'tie', 1, '0.90'),
        pack('e', 'elm', 'tie', 1, '1.50', { breaks: [{ fromPacks: 10, packPrice: gbp('1.00') }] }),
      ],
    );
    const answer = await asked(job, 'e');
    expect(said(answer)).toBe('wins 1.35 not 1.36');
    expect(answer.at?.prices.breaks).toEqual([{ fromPacks: 10, price: gbp('0.90') }]);
    expect(answer.losesAt?.cost).toEqual(gbp('9.06666'));
  });

  test('that is priced between two minor units is looked at on whole ones, up to its own price', async () => {
    const job = needing(
      { tie: 1000 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1000, '384.99'), pack('e', 'elm', 'tie', 1, '0.385')],
    );
    // 1000 × 0.38 = 380.00; 1000 × 0.385 = 385.00, above 384.99.
    expect(said(await asked(job, 'e'))).toBe('wins 0.38 not 0.385');
  });

  test('is priced in its own currency', async () => {
    // 4 × 1.00 GBP; 1 EUR is 0.80 GBP: p × 0.80 ≤ 1.00 up to p = 1.25 EUR. At 1.26 one of it is 1.008, beside 3 × 1.00.
    const job = needing(
      { tie: 4 },
      [supplier('ash'), { code: 'elm', name: 'Elm', currency: 'EUR' }],
      [
        pack('a', 'ash', 'tie', 1, '1.00'),
        { ...pack('e', 'elm', 'tie', 1, '2'), packPrice: { amount: '2.00', currency: 'EUR' } } as never,
      ],
      { rates: [{ code: 'eur', currency: 'EUR', on: '2026-03-01', rate: '0.80' }] },
    );
    const answer = await asked(job, 'e');
    expect(answer.at?.prices.first).toEqual({ amount: '1.25', currency: 'EUR' });
    expect(answer.losesAt).toEqual({ first: { amount: '1.26', currency: 'EUR' }, cost: gbp('4.008') });
  });

  test('by the metre is told with its length', async () => {
    const job = (price: string) =>
      jobOf({
        parts: [wirePart('red')],
        suppliers: [supplier('ash'), supplier('elm')],
        offers: [byTheMetre('a', 'ash', 'red', '0.50'), byTheMetre('e', 'elm', 'red', price)],
        loom: { points: points('A', 'B'), wires: [wire('W1')] },
      });
    // One piece of about a metre: 2 m from either.
    const answer = await asked(job('0.80'), 'e');
    expect(said(answer)).toBe('wins 0.50 not 0.51');
    expect(answer.at?.buys).toEqual([{ lengthMm: 2000 }]);
  });

  test('that even for nothing costs its postage more than others ask never wins', async () => {
    const job = needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm', ['0', '5'])],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20')],
    );
    const answer = await asked(job, 'e');
    expect(said(answer)).toBe('never');
    expect(answer.proof).toMatchObject({ status: 'proven', elsewhere: 'settled' });
  });

  test('whose goods would fall below a threshold is only said to win where it was looked', async () => {
    // Ash 3 × 4.00 = 12.00. Elm sends free from 9.00 on, else for 8.00: 3 × p ≤ 12.00 while 3 × p ≥ 9.00, that is from
    // 3.00 to 4.00; below that it pays 8.00 and wins again up to 1.33. At its own price it is 15.00.
    const job = needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm', ['0', '8'], ['9', '0'])],
      [pack('a', 'ash', 'tie', 1, '4.00'), pack('e', 'elm', 'tie', 1, '5.00', { stockPacks: 3 })],
    );
    const answer = await asked(job, 'e');
    expect(said(answer)).toBe('wins 4.00 not 4.01');
    expect(answer.proof).toMatchObject({ status: 'proven', elsewhere: 'notLooked' });
  });

  test('of another family wins with all of its family, and never by being bought for nothing', async () => {
    const of = (family: string, code: string, standsFor?: string) => ({
      ...consumable(code),
      family,
      ...(standsFor === undefined ? {} : { standsInFor: [{ part: standsFor, confirmedBy: 'Anna' }] }),
    });
    const job = jobOf({
      parts: [of('one', 'h1'), of('one', 'p1'), of('two', 'h2', 'h1'), of('two', 'p2', 'p1')],
      suppliers: [supplier('ash'), supplier('elm')],
      offers: [
        pack('h1-a', 'ash', 'h1', 1, '3.00'),
        pack('p1-a', 'ash', 'p1', 10, '2.00'),
        pack('h2-e', 'elm', 'h2', 1, '4.00'),
        pack('p2-e', 'elm', 'p2', 10, '2.50'),
      ],
      loom: {
        parts: [
          { part: 'h1', quantity: 1 },
          { part: 'p1', quantity: 2 },
        ],
      },
    });
    // Family one: 5.00. Family two: its pins at 2.50 leave 2.50 for its housing.
    expect(said(await asked(job, 'h2-e'))).toBe('wins 2.50 not 2.51');
    // Its housing at 4.00 leaves 1.00 for the pins.
    expect(said(await asked(job, 'p2-e'))).toBe('wins 1.00 not 1.01');
  });
});

describe('an offer that is in a cheapest mix', () => {
  test('stays in one until the others are as cheap', async () => {
    const job = needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.25')],
    );
    const answer = await asked(job, 'a');
    expect(said(answer)).toBe('bought 1.25 not 1.26');
    expect(answer.at?.changePercent).toBe(25);
  });

  test('without which a need goes unmet is bought whatever it costs', async () => {
    const job = needing(
      { tie: 3, clip: 1 },
      [supplier('ash')],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('c', 'ash', 'clip', 1, '1.25')],
    );
    const answer = await asked(job, 'a');
    expect(said(answer)).toBe('always 1.00');
    expect(answer.without).toMatchObject({ unsourced: 1, total: gbp('1.25') });
  });

  test('is looked at up to a hundred times its price', async () => {
    const job = needing(
      { tie: 1 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '0.01'), pack('e', 'elm', 'tie', 1, '50.00')],
    );
    expect(said(await asked(job, 'a'))).toBe('bought 1.00');
  });

  test('that costs nothing has no price to raise', async () => {
    const job = needing(
      { tie: 1 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '0'), pack('e', 'elm', 'tie', 1, '50.00')],
    );
    expect(said(await asked(job, 'a'))).toBe('bought 0.00');
  });
});

describe('an offer that cannot be bought is told why', () => {
  const two = (more: object, request: object = {}) =>
    needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20', more)],
      { request: { looms: [{ loom: 'l', quantity: 1 }], ...request } },
    );
  const codes = async (job: Job, offer: string) => {
    const error: unknown = await winningPrice(job, offer, unhurried).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(OfferNotUsable);
    return (error as OfferNotUsable).findings.map(({ code, at }) => `${code} ${at}`);
  };

  test.each<[string, Job, string[]]>([
    [
      'in a condition that is not accepted',
      two({ condition: 'used' }),
      ['offer-not-usable /offers/1', 'condition-not-accepted /offers/1/condition'],
    ],
    [
      'out of stock',
      two({ stockPacks: 0 }),
      ['offer-not-usable /offers/1', 'out-of-stock /offers/1/stockPacks'],
    ],
    [
      'whose supplier is shut out',
      two({}, { shutOut: ['elm'] }),
      ['offer-not-usable /offers/1', 'supplier-shut-out /request/shutOut/0'],
    ],
    [
      'whose part is pinned to another',
      two({}, { pinned: [{ part: 'tie', offer: 'a' }] }),
      ['offer-not-usable /offers/1', 'part-pinned-elsewhere /request/pinned/0'],
    ],
  ])('%s', async (_what, job, expected) => {
    expect(await codes(job, 'e')).toEqual(expected);
  });

  test('of which there is none, or of what is not needed', async () => {
    const job = jobOf({
      parts: [consumable('tie'), consumable('spare')],
      suppliers: [supplier('ash')],
      offers: [pack('a', 'ash', 'tie', 1, '1.00'), pack('s', 'ash', 'spare', 1, '1.00')],
      loom: { parts: [{ part: 'tie', quantity: 1 }] },
    });
    expect(await codes(job, 'ghost')).toEqual(['unknown-offer /offers']);
    expect(await codes(job, 's')).toEqual(['offer-not-needed /offers/1']);
  });
});

describe('the work', () => {
  const job = needing(
    { tie: 3 },
    [supplier('ash'), supplier('elm')],
    [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20')],
  );

  test('is a function of the job and the offer alone, in whatever order the job lists things', async () => {
    const turned = { ...job, offers: [...job.offers].reverse(), suppliers: [...job.suppliers].reverse() };
    expect(await asked(turned, 'e')).toEqual(await asked(job, 'e'));
  });

  test('stops when it is cancelled', async () => {
    let looks = 0;
    const control = { ...unhurried, cancelled: () => ++looks > 3 };
    await expect(winningPrice(job, 'e', control)).rejects.toBeInstanceOf(Cancelled);
  });

  test('without time claims nothing', async () => {
    const answer = await winningPrice(job, 'e', { ...unhurried, remainingMs: () => 0 });
    expect(answer.proof).toMatchObject({ status: 'notProven', stoppedBy: 'time' });
  });

  test('is stopped by what stops a quote', async () => {
    const { length: _none, ...unmeasured } = wire('W9');
    const blocked = jobOf({
      parts: [consumable('tie')],
      suppliers: [supplier('ash')],
      offers: [pack('a', 'ash', 'tie', 1, '1.00')],
      loom: { points: points('A', 'B'), wires: [unmeasured], parts: [{ part: 'tie', quantity: 1 }] },
      request: { looms: [{ loom: 'l', quantity: 1 }], settings: { stopsBlock: true } },
    });
    await expect(winningPrice(blocked, 'a', unhurried)).rejects.toBeInstanceOf(Stopped);
  });
});
