import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bought, byTheMetre, consumable, gbp, jobOf, priced, supplier, unhurried } from './fixtures.ts';

type OfferInput = JobInput['offers'][number];

const length = (
  code: string,
  from: string,
  nominalMm: number,
  price: string,
  more: object = {},
): OfferInput => ({
  form: 'length',
  code,
  supplier: from,
  part: 'cover',
  nominalMm,
  packPrice: gbp(price),
  ...more,
});

interface More {
  suppliers?: JobInput['suppliers'];
  kind?: 'pvc' | 'tape';
  clips?: number;
}

/** Sleeve, or tape, in pieces of so many mm, and at times a clip beside it. */
const covering = (
  pieces: readonly number[],
  offers: OfferInput[],
  { suppliers = [supplier('a'), supplier('b')], kind = 'pvc', clips = 0 }: More = {},
) =>
  jobOf({
    parts: [
      kind === 'tape'
        ? { kind, code: 'cover', description: 'Tape', tapeType: 'adhesive', widthMm: 19 }
        : { kind: 'sleeve', code: 'cover', description: 'Sleeve', sleeveType: kind },
      consumable('clip'),
    ],
    suppliers,
    offers,
    loom: {
      coverings: pieces.map((lengthMm, at) => ({ id: `c${at}`, kind, part: 'cover', lengthMm })),
      parts: clips > 0 ? [{ part: 'clip', quantity: clips }] : [],
    },
  });
const buying = async (...given: Parameters<typeof covering>) => bought(await priced(covering(...given)));

const three = [1000, 1000, 1000];

describe('of mixes with lengths that cost the same', () => {
  test('the longer length is bought, though more of it is left over', async () => {
    const result = await priced(
      covering(three, [length('5m', 'a', 5000, '4'), length('10m', 'a', 10_000, '4')]),
    );
    expect(bought(result)).toEqual({ '10m': 1 });
    expect(result.leftovers.map(({ surplus }) => surplus.mm)).toEqual([7000]);
    expect(result.proof.assumptions.at(-1)).toContain('then the one with the longest lengths');
  });

  test('but not for a penny more', async () => {
    const offers = [length('5m', 'a', 5000, '4'), length('10m', 'a', 10_000, '4.01')];
    expect(await buying(three, offers)).toEqual({ '5m': 1 });
  });

  test('the price is that of the whole mix, postage and all', async () => {
    const suppliers = [supplier('a', ['0', '1']), supplier('b', ['0', '2'])];
    const at = (price: string) => [length('5m', 'a', 5000, '4'), length('10m', 'b', 10_000, price)];
    // 4 + 1 against 3 + 2; then against 4 + 2.
    expect(await buying(three, at('3'), { suppliers })).toEqual({ '10m': 1 });
    expect(await buying(three, at('4'), { suppliers })).toEqual({ '5m': 1 });
  });

  test('one length comes before two that are longer together', async () => {
    // Two of 5 m come to 4.00 by their break: 10 m, in two lengths.
    const fives = length('5m', 'a', 5000, '2.5', { breaks: [{ fromPacks: 2, packPrice: gbp('2') }] });
    expect(await buying([3000, 3000], [fives, length('10m', 'a', 10_000, '4')])).toEqual({ '10m': 1 });
    expect(await buying([3000, 3000], [fives, length('8m', 'a', 8000, '4')])).toEqual({ '8m': 1 });
  });

  test('no length is bought from which nothing is cut', async () => {
    // One with 4.00 for postage costs what two cost that are sent free.
    const suppliers = [supplier('a', ['0', '4'], ['8', '0'])];
    const offers = [length('5m', 'a', 5000, '4'), length('10m', 'a', 10_000, '4')];
    expect(await buying(three, offers, { suppliers })).toEqual({ '10m': 1 });
  });

  test('the longer length comes before fewer parcels, which are as few as with it they can be', async () => {
    const clip = (from: string): OfferInput => ({
      ...{ form: 'pack', code: `clip-${from}`, supplier: from, part: 'clip' },
      ...{ packCount: 1, packPrice: gbp('1') },
    });
    // All could come from c with 5 m; with 10 m all can come from a.
    const offers = [
      ...[clip('a'), clip('c'), length('5m', 'c', 5000, '4')],
      ...[length('10m-a', 'a', 10_000, '4'), length('10m-b', 'b', 10_000, '4')],
    ];
    const suppliers = [supplier('a'), supplier('b'), supplier('c')];
    expect(await buying(three, offers, { suppliers, clips: 2 })).toEqual({ '10m-a': 1, 'clip-a': 2 });
    const pair = [clip('a'), length('5m', 'a', 5000, '4'), length('10m-b', 'b', 10_000, '4')];
    expect(await buying(three, pair, { suppliers, clips: 2 })).toEqual({ '10m-b': 1, 'clip-a': 2 });
  });

  test('one length is bought instead of a shorter one by the metre; of two, the metres', async () => {
    const metre = byTheMetre('metre', 'a', 'cover', '1');
    expect(await buying(three, [metre, length('5m', 'a', 5000, '3')])).toEqual({ '5m': 1 });
    expect(await buying([4000, 4000], [metre, length('5m', 'a', 5000, '4')])).toEqual({ metre: 8000 });
  });

  test('of tape too the longer roll is bought', async () => {
    const offers = [length('5m', 'a', 5000, '4'), length('10m', 'a', 10_000, '4')];
    expect(await buying(three, offers, { kind: 'tape' })).toEqual({ '10m': 1 });
  });

  test('that holds also of one supplier’s lengths where time ends before anything is compared', async () => {
    const job = covering(three, [length('5m', 'a', 5000, '4'), length('10m', 'a', 10_000, '4')]);
    const result = await priced(job, { ...unhurried, remainingMs: () => 0 });
    expect(bought(result)).toEqual({ '10m': 1 });
    const [cut] = result.cuttingPlans;
    expect(cut?.lengths.map(({ offer, offcutMm }) => [offer, offcutMm])).toEqual([['10m', 7000]]);
  });
});
