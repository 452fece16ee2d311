import { beforeAll, describe, expect, test } from 'vitest';
import type { Job } from '../../worker/engine/model/job.ts';
import type { Offer } from '../../worker/engine/model/offer.ts';
import { OfferNotUsable } from '../../worker/engine/model/notUsable.ts';
import { WinningPrice } from '../../worker/engine/model/winningPrice.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import { unhurried } from '../engine/fixtures.ts';
import { cheapest, type Outcome } from '../sourcing/whole/cheapest.ts';
import { instance, tenth, themeOf } from '../sourcing/whole/instances.ts';
import { compare, fromDecimal, plus, ratio, type Ratio } from '../sourcing/whole/ratio.ts';

/** Of the instances of the proof, every so many. */
const EVERY = 4;
const EACH_AT_LEAST = 8;

interface Asked {
  seed: number;
  job: Job;
  offer: Offer;
  answer: WinningPrice;
}

const asked: Asked[] = [];

beforeAll(async () => {
  for (const [index, seed] of tenth.filter((_, at) => at % EVERY === 0).entries()) {
    const job = instance(seed);
    const offer = job.offers[index % job.offers.length];
    // What is pinned, and whoever is insisted on, ask for other things once the offer is gone.
    if (!offer || job.request.insistOn || job.request.pinned) continue;
    try {
      const answer = WinningPrice.parse(await winningPrice(job, offer.code, unhurried));
      asked.push({ seed, job, offer, answer });
    } catch (error) {
      if (!(error instanceof OfferNotUsable)) throw error;
    }
  }
}, 240_000);

/** The decimals of an amount are cut off where they do not end. */
const NEAR = ratio(1n, 10n ** 20n);
const isCost = (amount: string, cost: Ratio) =>
  compare(fromDecimal(amount), plus(cost, NEAR)) < 0 && compare(cost, plus(fromDecimal(amount), NEAR)) < 0;

const without = ({ job, offer }: Asked): Outcome =>
  cheapest({ ...job, offers: job.offers.filter(({ code }) => code !== offer.code) });

/** Answers that the judge could not try every purchase for: at a price of next to nothing these are too many. */
const untried = new Set<number>();

/** The least with the offer's prices as an answer tells them; undefined where the judge cannot try every purchase. */
function withPrices(
  { seed, job, offer }: Asked,
  { first, breaks }: WinningPrice['stated'],
): Outcome | undefined {
  const priced: Offer =
    offer.form === 'metre'
      ? {
          ...offer,
          pricePerMetre: first,
          ...(offer.breaks
            ? {
                breaks: offer.breaks.map((at, place) => ({
                  ...at,
                  pricePerMetre: breaks[place]?.price ?? first,
                })),
              }
            : {}),
        }
      : {
          ...offer,
          packPrice: first,
          ...(offer.breaks
            ? {
                breaks: offer.breaks.map((at, place) => ({
                  ...at,
                  packPrice: breaks[place]?.price ?? first,
                })),
              }
            : {}),
        };
  try {
    return cheapest({
      ...job,
      offers: job.offers.map((other) => (other.code === offer.code ? priced : other)),
    });
  } catch (error) {
    if (!(error instanceof Error && error.message.includes('too many amounts'))) throw error;
    untried.add(seed);
    return undefined;
  }
}

/** All prices of an offer in the proportion of its first one, down to four decimals beyond the minor unit. */
function inProportion({ answer: { stated } }: Asked, amount: string): WinningPrice['stated'] {
  const { currency } = stated.first;
  const decimals = { JPY: 4, KWD: 7 }[currency] ?? 6;
  const units = (text: string) => {
    const [whole = '', part = ''] = text.split('.');
    return BigInt(whole + part.padEnd(decimals, '0'));
  };
  const before = units(stated.first.amount);
  const text = (value: bigint) => {
    const digits = value.toString().padStart(decimals + 1, '0');
    return `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  };
  return {
    first: { amount, currency },
    breaks: stated.breaks.map((at) => ({
      ...at,
      price: {
        amount: before === 0n ? at.price.amount : text((units(at.price.amount) * units(amount)) / before),
        currency,
      },
    })),
  };
}

const of = (...outcomes: WinningPrice['outcome'][]) =>
  asked.filter(({ answer }) => outcomes.includes(answer.outcome));
const seeds = (list: Asked[]) => list.map(({ seed }) => seed);

describe('the winning price under all rules of sourcing, against trying every purchase', () => {
  test('is asked of enough jobs of each outcome and of every kind, and proven for all whose needs can be met', () => {
    console.log(
      `of ${asked.length}: ${(['wins', 'bought', 'always', 'never'] as const).map((outcome) => `${outcome} ${of(outcome).length}`).join(', ')}`,
    );
    for (const outcome of ['wins', 'bought', 'always'] as const)
      expect(of(outcome).length).toBeGreaterThanOrEqual(EACH_AT_LEAST);
    expect(new Set(asked.map(({ seed }) => themeOf(seed).name)).size).toBeGreaterThanOrEqual(12);
    const open = asked.filter(({ answer }) => answer.proof.status !== 'proven');
    // What it serves goes unmet whatever is bought: then nothing more is claimed.
    expect(
      seeds(open.filter(({ job, answer }) => answer.outcome !== 'never' || cheapest(job).unmet === 0)),
    ).toEqual([]);
    expect(open.length).toBeLessThan(asked.length / 20);
  });

  test('comes with the least cost at that price', () => {
    const wrong = of('wins', 'bought').filter((one) => {
      const { at } = one.answer;
      if (!at) return true;
      const best = withPrices(one, at.prices);
      return best !== undefined && !isCost(at.cost.amount, best.cost);
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('comes with the least cost without the offer, and leaves as many needs unmet', () => {
    const wrong = of('wins', 'bought', 'never').filter((one) => {
      const best = without(one);
      return !isCost(one.answer.without.cost.amount, best.cost) || best.unmet !== cheapest(one.job).unmet;
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('is the last one: at the next price above, the offer makes nothing cheaper', () => {
    const wrong = of('wins', 'bought').filter((one) => {
      const { losesAt } = one.answer;
      if (!losesAt) return one.answer.outcome === 'wins';
      const best = withPrices(one, inProportion(one, losesAt.first.amount));
      return best !== undefined && compare(best.cost, without(one).cost) !== 0;
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('is none where the offer makes nothing cheaper, for nothing or at its own price', () => {
    const wrong = of('never').filter((one) => {
      const best = without(one);
      return [inProportion(one, '0'), one.answer.stated].some((prices) => {
        const found = withPrices(one, prices);
        return found !== undefined && compare(found.cost, best.cost) !== 0;
      });
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('is none where more needs go unmet without the offer', () => {
    const wrong = of('always').filter(
      (one) => without(one).unmet - cheapest(one.job).unmet !== one.answer.without.unsourced,
    );
    expect(seeds(wrong)).toEqual([]);
  });

  test('tells breaks in the proportion of the first price', () => {
    const broken = of('wins', 'bought').filter(
      ({ answer: { at, stated } }) => at && stated.breaks.length > 0,
    );
    const wrong = broken.filter((one) => {
      const { at } = one.answer;
      const expected = at && inProportion(one, at.prices.first.amount);
      return expected?.breaks.some(
        ({ price }, place) =>
          compare(fromDecimal(price.amount), fromDecimal(at?.prices.breaks[place]?.price.amount ?? '-1')) !==
          0,
      );
    });
    expect(seeds(wrong)).toEqual([]);
    expect(broken.length).toBeGreaterThanOrEqual(5);
  });

  test('was judged but for a few', () => expect(untried.size).toBeLessThan(asked.length / 20));
});
