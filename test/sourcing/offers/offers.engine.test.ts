import { beforeAll, describe, expect, it } from 'vitest';
import { priceJob } from '../../../worker/engine/engine.ts';
import type { Job } from '../../../worker/engine/model/job.ts';
import type { Result } from '../../../worker/engine/model/result.ts';
import { MINOR, fromProof } from '../exactMoney.ts';
import { cheapest, type Outcome } from './cheapest.ts';
import { INSTANCES, instance, seeds } from './instances.ts';
import { judgeOf, onSale, type Bought } from './judge.ts';
import { needsOf, type Need } from './needs.ts';
import { RULES_ON } from './rules.ts';

/** A job as the engine priced it, beside the least cost of all purchases. */
interface Judged {
  seed: number;
  job: Job;
  result: Result;
  best: Outcome;
}

async function judged(seed: number): Promise<Judged> {
  const job = instance(seed);
  const result = await priceJob(job, {
    remainingMs: () => 60_000,
    cancelled: () => false,
    report: () => undefined,
  });
  return { seed, job, result, best: cheapest(job) };
}

/** Further seeds: weights of half a milligram, and a heavier parcel that goes for less. */
const SEEDS_BESIDE = [1119, 1189, 1536, 1656, 2567];

describe('the engine against the brute force of offers of every form', () => {
  const priced: Judged[] = [];

  beforeAll(async () => {
    for (const seed of [...seeds, ...SEEDS_BESIDE]) priced.push(await judged(seed));
  }, 180_000);

  it('comes to the same requirements', () => {
    for (const { seed, job, result } of priced)
      expect([seed, result.requirements.map(amountFound).sort()]).toEqual([
        seed,
        needsOf(job, RULES_ON).map(amountNeeded).sort(),
      ]);
  });

  it('leaves as few requirements unsourced as can be', () => {
    const apart = priced
      .map(({ seed, result, best }) => ({ seed, best: best.unsourced, found: result.unsourced.length }))
      .filter(({ best, found }) => best !== found);
    expect(apart).toEqual([]);
  });

  it(`costs ${INSTANCES + SEEDS_BESIDE.length} random instances exactly as trying every purchase does`, () => {
    const apart = priced
      .map(({ seed, result, best }) => ({ seed, best: best.cost, found: fromProof(result.proof.cost) }))
      .filter(({ best, found }) => best !== found);
    expect(apart).toEqual([]);
  });

  it('buys by the rules, amounts that are on sale, and what it buys costs what the proof says', () => {
    const wrong = priced.filter(({ job, result, best }) => {
      const bought = result.purchases.map((purchase) => boughtBy(job, purchase));
      const { unsourced, cost } = judgeOf(job)(bought);
      const sold = bought.every(({ offer, count }) => onSale(offer, 800).includes(count));
      return !sold || unsourced !== best.unsourced || cost !== Number(fromProof(result.proof.cost));
    });
    expect(wrong.map(({ seed }) => seed)).toEqual([]);
  });

  it('proves every one of them to half a minor unit', () => {
    const badly = priced.filter(({ result: { proof }, best }) => {
      const bound = fromProof(proof.bound);
      return proof.status === 'bestSoFar' || bound > best.cost || best.cost - bound > BigInt(MINOR / 2);
    });
    expect(badly.map(({ seed, result: { proof } }) => ({ seed, proof }))).toEqual([]);
  });
});

function boughtBy(job: Job, { offer: code, bought }: Result['purchases'][number]): Bought {
  const offer = job.offers.find((candidate) => candidate.code === code);
  if (offer?.form !== bought.form) throw new Error(`${code} is bought in a form in which it is not sold`);
  return { offer, count: bought.form === 'metre' ? bought.lengthMm : bought.packs };
}

function amountFound(need: Result['requirements'][number]): string {
  if (need.kind === 'count') return `${need.part} ${need.quantity}`;
  return `${need.kind === 'wire' ? need.colour.base : need.part} ${need.totalMm}`;
}

function amountNeeded(need: Need): string {
  if (need.kind === 'count') return `${need.part} ${need.quantity}`;
  return `${need.part} ${need.pieces.reduce((sum, mm) => sum + mm, 0)}`;
}
