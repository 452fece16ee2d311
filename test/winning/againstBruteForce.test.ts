import { beforeAll, describe, expect, test } from 'vitest';
import type { Job } from '../../worker/engine/model/job.ts';
import { OfferNotUsable } from '../../worker/engine/model/notUsable.ts';
import { WinningPrice } from '../../worker/engine/model/winningPrice.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import { unhurried } from '../engine/fixtures.ts';
import { bestMix, wins } from './bruteForce.ts';
import { tinyJob } from './instances.ts';

const JOBS = 120;
const EACH_AT_LEAST = 10;

interface Asked {
  seed: number;
  job: Job;
  offer: string;
  stated: number;
  answer: WinningPrice;
}

const pence = (amount: string | undefined) => Math.round(Number(amount) * 100);

/** Whether a cheapest mix buys some of the offer at a first price of so many pence, by trying every mix. */
const winsAt = ({ job, offer }: Pick<Asked, 'job' | 'offer'>, price: number) =>
  wins(bestMix(job, { offer, some: true }, price), bestMix(job, { offer, some: false }));

const asked: Asked[] = [];
let unusable = 0;

beforeAll(async () => {
  for (let seed = 1; seed <= JOBS; seed++) {
    const job = tinyJob(seed);
    const offer = `o${seed % job.offers.length}`;
    const stated = job.offers.find(({ code }) => code === offer);
    if (stated?.form !== 'pack') throw new Error('the offer is a pack');
    try {
      const answer = WinningPrice.parse(await winningPrice(job, offer, unhurried));
      asked.push({ seed, job, offer, stated: pence(stated.packPrice.amount), answer });
    } catch (error) {
      if (!(error instanceof OfferNotUsable)) throw error;
      unusable++;
      // Then no mix with it, at any price, meets a requirement that it serves.
      expect(bestMix(job, { offer, some: true }) && winsAt({ job, offer }, 0)).toBeFalsy();
    }
  }
}, 120_000);

const of = (outcome: WinningPrice['outcome']) => asked.filter(({ answer }) => answer.outcome === outcome);
const seeds = (list: Asked[]) => list.map(({ seed }) => seed);

describe('the winning price of tiny jobs, against trying every mix at every price', () => {
  test('is asked of enough jobs of each outcome, and proven for every one', () => {
    console.log(
      `of ${asked.length}: ${(['wins', 'bought', 'always', 'never'] as const).map((outcome) => `${outcome} ${of(outcome).length}`).join(', ')}; not usable ${unusable}`,
    );
    for (const outcome of ['wins', 'bought', 'always', 'never'] as const)
      expect(of(outcome).length).toBeGreaterThanOrEqual(EACH_AT_LEAST);
    expect(asked.filter(({ answer }) => answer.proof.status !== 'proven')).toEqual([]);
  });

  test('of an offer that loses is below its own: it wins there, and not at the next price above', () => {
    const wrong = of('wins').filter((one) => {
      const at = pence(one.answer.at?.prices.first.amount);
      const next = pence(one.answer.losesAt?.first.amount);
      return (
        at >= one.stated ||
        next !== at + 1 ||
        !winsAt(one, at) ||
        winsAt(one, next) ||
        winsAt(one, one.stated)
      );
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('of an offer that is bought is its own or above: it wins up to there, and not at the next', () => {
    const wrong = of('bought').filter((one) => {
      const at = pence(one.answer.at?.prices.first.amount);
      const next = one.answer.losesAt && pence(one.answer.losesAt.first.amount);
      if (!winsAt(one, one.stated) || at < one.stated || !winsAt(one, at)) return true;
      return next === undefined ? at !== 100 * one.stated : next !== at + 1 || winsAt(one, next);
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('is none for an offer without which more needs go unmet', () => {
    const wrong = of('always').filter(({ job, offer, stated, answer }) => {
      const [withIt, without] = [
        bestMix(job, { offer, some: true }, stated),
        bestMix(job, { offer, some: false }),
      ];
      return (
        (without?.unmet ?? 0) - (withIt?.unmet ?? 0) !== answer.without.unsourced ||
        answer.without.unsourced < 1
      );
    });
    expect(seeds(wrong)).toEqual([]);
  });

  test('is none for an offer that loses for nothing and at its own price', () => {
    expect(seeds(of('never').filter((one) => winsAt(one, 0) || winsAt(one, one.stated)))).toEqual([]);
  });

  test('is the highest of all wherever it says that nothing else needs to be looked at', () => {
    const settled = asked.filter(({ answer }) => answer.proof.elsewhere === 'settled');
    const wrong = settled.filter((one) => {
      const { outcome, losesAt } = one.answer;
      // Where it never wins, from nothing on; where it is always bought, from its own price on.
      const first = outcome === 'always' ? one.stated : pence(losesAt?.first.amount ?? '0');
      const above = Array.from({ length: 2 * one.stated }, (_, index) => first + index);
      return outcome === 'always'
        ? above.some((price) => !winsAt(one, price))
        : above.some((price) => winsAt(one, price));
    });
    expect(seeds(wrong)).toEqual([]);
    expect(settled.filter(({ answer }) => answer.outcome === 'wins').length).toBeGreaterThanOrEqual(
      EACH_AT_LEAST,
    );
  });

  test('comes with what the cheapest mixes with and without the offer cost', () => {
    const cost = (amount: string | undefined) => Math.round(Number(amount) * 1_000_000);
    const wrong = asked.filter(({ job, offer, answer: { at, without } }) => {
      const least = bestMix(job, { offer, some: false });
      if (least?.pence !== cost(without.cost.amount)) return true;
      if (!at) return false;
      const first = pence(at.prices.first.amount);
      return (
        bestMix(job, { offer, some: true }, first)?.pence !== cost(at.cost.amount) || at.buys.length === 0
      );
    });
    expect(seeds(wrong)).toEqual([]);
  });
});
