import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { unconfirmedIn } from '../../worker/engine/quote/unconfirmed.ts';
import { fullText } from '../../worker/sheets/quoteText.ts';
import { bought, consumable, jobOf, pack, priced, supplier } from '../engine/fixtures.ts';

type Unconfirmed = NonNullable<JobInput['unconfirmed']>;
type Status = 'confirmed' | 'proposed' | 'refuted';

const ALL = { standInsAccepted: ['confirmed' as const, 'proposed' as const], besideSeconds: 0 };

/** Two of `cap`, for 3.00 each of an editor's offer or for 1.00 each of a member's. */
const capJob = (unconfirmed: Unconfirmed | undefined, request: Partial<JobInput['request']> = {}) =>
  jobOf({
    parts: [consumable('cap'), consumable('else')],
    suppliers: [supplier('s')],
    offers: [pack('dear', 's', 'cap', 1, '3'), pack('cheap', 's', 'cap', 1, '1')],
    loom: { parts: [{ part: 'cap', quantity: 2 }] },
    request: { looms: [{ loom: 'l', quantity: 1 }], ...request },
    ...(unconfirmed ? { unconfirmed } : {}),
  });

describe('a cheaper offer that is proposed', () => {
  test('is bought and named', async () => {
    const result = await priced(capJob({ offers: ['cheap'] }));
    expect(bought(result)).toEqual({ cheap: 2 });
    expect(result.unconfirmed).toEqual([
      {
        offer: 'cheap',
        part: 'cap',
        why: 'offer',
        detail: 'the offer cheap is proposed, and nobody has confirmed it',
      },
    ]);
    expect(result.findings).toMatchObject([
      { code: 'bought-unconfirmed', severity: 'warning', where: 'offer cheap of s' },
    ]);
  });

  test('is not bought with confirmedOnly, and its finding says why', async () => {
    const result = await priced(capJob({ offers: ['cheap'] }, { confirmedOnly: true }));
    expect(bought(result)).toEqual({ dear: 2 });
    expect(result.unconfirmed).toBeUndefined();
    expect(result.findings).toMatchObject([
      { code: 'offer-not-confirmed', found: 'it is proposed, and nobody has confirmed it' },
    ]);
  });

  test('is not named where another is bought', async () => {
    const result = await priced(capJob({ offers: ['dear'] }));
    expect(bought(result)).toEqual({ cheap: 2 });
    expect([result.unconfirmed, result.findings]).toEqual([undefined, []]);
  });
});

test('a proposed part is bought and named; with confirmedOnly it is not sourced, which says why', async () => {
  const named = await priced(capJob({ parts: ['cap'] }));
  expect(named.unconfirmed).toMatchObject([{ offer: 'cheap', part: 'cap', why: 'part' }]);
  const result = await priced(capJob({ parts: ['cap'] }, { confirmedOnly: true }));
  expect(bought(result)).toEqual({});
  expect(result.unsourced).toMatchObject([{ requirement: 'part:cap' }]);
  expect(result.unsourced[0]?.why).toContain('it sells cap, a proposed part that nobody has confirmed');
});

test('a kit with a proposed part in it is left out whole', async () => {
  const kit = (confirmedOnly: boolean) =>
    jobOf({
      parts: [consumable('cap'), consumable('new')],
      suppliers: [supplier('s')],
      offers: [
        pack('dear', 's', 'cap', 1, '3'),
        {
          form: 'kit',
          code: 'kit',
          supplier: 's',
          contents: ['cap', 'new'].map((part) => ({ part, quantity: 2 })),
          packPrice: { amount: '1', currency: 'GBP' },
        },
      ],
      loom: { parts: [{ part: 'cap', quantity: 2 }] },
      request: { looms: [{ loom: 'l', quantity: 1 }], confirmedOnly },
      unconfirmed: { parts: ['new'] },
    });
  const with_ = await priced(kit(false));
  expect(bought(with_)).toEqual({ kit: 1 });
  expect(with_.unconfirmed).toMatchObject([{ offer: 'kit', part: 'new', why: 'part' }]);
  expect(bought(await priced(kit(true)))).toEqual({ dear: 2 });
});

test('stock of a proposed part is left where it is with confirmedOnly', async () => {
  const job = (confirmedOnly: boolean) =>
    Job.parse({
      ...capJob({ parts: ['cap'] }, { confirmedOnly }),
      stock: [{ form: 'pieces', code: 'box', part: 'cap', count: 2 }],
    });
  expect((await priced(job(false))).fromStock).toMatchObject([{ part: 'cap', count: 2 }]);
  const result = await priced(job(true));
  expect(result.fromStock).toEqual([]);
  expect(result.findings.map(({ code }) => code)).toContain('stock-not-confirmed');
});

describe('a part that stands in for another', () => {
  /** `new` may be bought instead of `old` for a third of the price. */
  const job = (status: Status, confirmedOnly = false, isOldSold = true) =>
    jobOf({
      club: { currency: 'GBP', settings: ALL },
      parts: [consumable('old'), consumable('new')],
      suppliers: [supplier('s')],
      offers: [...(isOldSold ? [pack('dear', 's', 'old', 1, '3')] : []), pack('cheap', 's', 'new', 1, '1')],
      fits: [{ from: 'new', relation: 'standsInFor', to: 'old', status }],
      loom: { parts: [{ part: 'old', quantity: 2 }] },
      request: { looms: [{ loom: 'l', quantity: 1 }], confirmedOnly },
    });

  test('is named where nobody has confirmed that, and only there', async () => {
    const proposed = await priced(job('proposed'));
    expect(bought(proposed)).toEqual({ cheap: 2 });
    expect(proposed.unconfirmed).toEqual([
      {
        offer: 'cheap',
        part: 'new',
        why: 'standIn',
        detail: 'new is bought instead of old, and nobody has confirmed that it can be',
      },
    ]);
    const confirmed = await priced(job('confirmed'));
    expect([bought(confirmed), confirmed.unconfirmed]).toEqual([{ cheap: 2 }, undefined]);
  });

  test('is bought with confirmedOnly only where it is confirmed, whatever the setting accepts', async () => {
    expect(bought(await priced(job('proposed', true)))).toEqual({ dear: 2 });
    expect(bought(await priced(job('confirmed', true)))).toEqual({ cheap: 2 });
  });

  test('is named in what is not sourced, where confirmedOnly left it out', async () => {
    const { unsourced } = await priced(job('proposed', true, false));
    expect(unsourced.map(({ todo }) => todo)).toEqual([
      'Enter an offer for old. Left out, as nobody has confirmed that it stands in (confirmedOnly): new.',
    ]);
  });

  test.each([false, true])(
    'is never bought once it is refuted, not even where nothing else is sold (%s)',
    async (isOldSold) => {
      for (const confirmedOnly of [false, true]) {
        const result = await priced(job('refuted', confirmedOnly, isOldSold));
        expect(result.purchases.map(({ part }) => part)).toEqual(isOldSold ? ['old'] : []);
        expect(result.unconfirmed).toBeUndefined();
      }
    },
  );
});

test('every choice of what is proposed among three offers is bought as counting by hand says', async () => {
  const prices = { a: 1, b: 2, c: 3 };
  const codes = ['a', 'b', 'c'] as const;
  for (let mask = 0; mask < 8; mask++)
    for (const confirmedOnly of [false, true]) {
      const proposed = codes.filter((_, at) => (mask >> at) % 2 === 1);
      const result = await priced(
        jobOf({
          parts: [consumable('cap')],
          suppliers: [supplier('s')],
          offers: codes.map((code) => pack(code, 's', 'cap', 1, `${prices[code]}`)),
          loom: { parts: [{ part: 'cap', quantity: 1 }] },
          request: { looms: [{ loom: 'l', quantity: 1 }], confirmedOnly },
          unconfirmed: { offers: [...proposed] },
        }),
      );
      const left = confirmedOnly ? codes.filter((code) => !proposed.includes(code)) : codes;
      const [cheapest] = [...left].sort((one, other) => prices[one] - prices[other]);
      expect(bought(result)).toEqual(cheapest === undefined ? {} : { [cheapest]: 1 });
      const isNamed = cheapest !== undefined && proposed.includes(cheapest);
      expect((result.unconfirmed ?? []).map(({ offer }) => offer)).toEqual(isNamed ? [cheapest] : []);
    }
});

describe('the job as it is worked', () => {
  test('keeps of the proposals those that it can reach, in order', () => {
    const job = capJob({ parts: ['else', 'cap'], offers: ['dear', 'cheap', 'dear'] });
    expect(normaliseJob(job).unconfirmed).toEqual({ parts: ['cap'], offers: ['cheap', 'dear'] });
  });

  test('has the same bytes as without, where none of them is reached', () => {
    for (const none of [{}, { parts: ['else'] }, { parts: [], offers: [] }])
      expect(canonicalJson(normaliseJob(capJob(none)))).toBe(canonicalJson(normaliseJob(capJob(undefined))));
  });

  test('names no part and no offer that is not there', () => {
    const { error } = Job.safeParse({ ...capJob(undefined), unconfirmed: { parts: ['x'], offers: ['y'] } });
    expect(error?.issues.map(({ path }) => path.join('/'))).toEqual([
      'unconfirmed/parts/0',
      'unconfirmed/offers/0',
    ]);
  });
});

test('what several orders buy is said once', () => {
  const [offer] = capJob(undefined).offers;
  if (!offer) throw new Error('no offer');
  const one = { offer, purchase: { part: 'cap' } as never, standIns: [] };
  expect(unconfirmedIn({ unconfirmed: { offers: [offer.code] } }, [one, one])).toHaveLength(1);
});

test('the quote sheet names it under Not confirmed', async () => {
  const text = fullText(await priced(capJob({ offers: ['cheap'] })));
  expect(text).toContain('the offer cheap is proposed');
  expect(fullText(await priced(capJob(undefined)))).not.toContain('Not confirmed');
});
