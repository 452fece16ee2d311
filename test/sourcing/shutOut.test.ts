import { describe, expect, test } from 'vitest';
import { NOTHING_LEFT } from '../../worker/engine/sourcing/model/aims.ts';
import { startingKnowledge } from '../../worker/engine/sourcing/model/counted.ts';
import { bestMix, type OnProgress } from '../../worker/engine/sourcing/model/mix.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { problemOf } from '../bench/direct.ts';
import { gbp, jobOf, supplier, unhurried } from '../engine/fixtures.ts';

// 5 of 44, 7 of 33 and 17 of 12 come out of five of 132 in fractions, but whole only out of six; 3 of 60 out of two of 130.
const HARD = [44, 44, 44, 44, 44, ...Array<number>(7).fill(33), ...Array<number>(17).fill(12)];
const EASY = [60, 60, 60];

/** Both sleeves, each out of one length at a pound, all of it judged by the cutting. */
function problem(): Problem {
  const kinds = [
    { part: 'hard', nominalMm: 132, pieces: HARD },
    { part: 'easy', nominalMm: 130, pieces: EASY },
  ];
  const job = jobOf({
    parts: kinds.map(({ part }) => ({ kind: 'sleeve', code: part, description: part, sleeveType: 'pvc' })),
    suppliers: [supplier('s')],
    offers: kinds.map(({ part, nominalMm }) => ({
      form: 'length',
      code: part,
      supplier: 's',
      part,
      nominalMm,
      packPrice: gbp('1.00'),
    })),
    loom: {
      coverings: kinds.flatMap(({ part, pieces }) =>
        pieces.map((lengthMm, at) => ({ id: `${part}${at}`, kind: 'pvc' as const, part, lengthMm })),
      ),
    },
  });
  const compiled = problemOf(job);
  return {
    ...compiled,
    requirements: compiled.requirements.map((requirement) => ({
      ...requirement,
      patterns: undefined,
      ways: [],
    })),
  };
}

async function solved(efforts: readonly number[], control = unhurried) {
  const asked = problem();
  const told: Parameters<OnProgress>[0][] = [];
  const mix = await bestMix(
    asked,
    { least: 'cost', left: NOTHING_LEFT },
    await startingKnowledge(asked, unhurried),
    control,
    { efforts, onProgress: (known) => told.push(known) },
  );
  const lengthsOf = (offer: string) => {
    if (mix.status === 'infeasible' || !mix.plan) return undefined;
    return mix.plan.units[asked.choices.findIndex((choice) => choice.offer === offer)];
  };
  return { mix, told, hard: lengthsOf('hard'), easy: lengthsOf('easy') };
}

describe('a mix of which the cutting cannot say whether it is enough', () => {
  test('is shut out with its bound, and costs no other sleeve its optimum', async () => {
    const { mix, hard, easy } = await solved([0]);
    expect(mix).toMatchObject({ status: 'stopped', stoppedBy: 'cutting' });
    expect({ hard, easy }).toEqual({ hard: 6, easy: 2 });
    // Five and two lengths of 100 pence, of which it is not known that they are too few.
    expect(mix.status === 'stopped' && mix.bound).toBeCloseTo(700, 6);
  });

  test('is looked at again with more effort, and the best is proven when that settles it', async () => {
    const { mix, hard, easy } = await solved([0, 0, 1]);
    expect(mix).toMatchObject({ status: 'optimal', objective: 800 });
    expect({ hard, easy }).toEqual({ hard: 6, easy: 2 });
  });

  test('is told of as a bound with the best that can be cut', async () => {
    const { told } = await solved([0]);
    expect(told.some(({ best, bound }) => best === 800 && Math.abs((bound ?? 0) - 700) < 1e-6)).toBe(true);
    expect(told.every(({ best, bound }) => (best ?? 800) >= 800 && (bound ?? 0) <= 800)).toBe(true);
  });

  test('ends in want of time where that is so', async () => {
    let looks = 400;
    const { mix } = await solved(Array<number>(10_000).fill(0), {
      ...unhurried,
      remainingMs: () => Math.max(0, looks--),
    });
    expect(mix).toMatchObject({ status: 'stopped', stoppedBy: 'time' });
    expect(mix.status === 'stopped' && mix.bound).toBeLessThanOrEqual(700 + 1e-6);
  });
});
