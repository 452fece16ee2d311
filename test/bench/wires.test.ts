import { describe, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { problemOf } from './direct.ts';
import { coloursJob, reelsJob } from './wires.ts';

const SEEDS = [1, 2];

describe('wires to be cut', () => {
  test('are one colour of 45 lengths out of reels of 100 m', () => {
    for (const seed of SEEDS) {
      const { requirements, choices } = problemOf(Job.parse(reelsJob(seed)));
      expect(requirements.map(({ how, pieces }) => [how, pieces.length])).toEqual([['cut', 45]]);
      expect(choices.some(({ serves }) => serves[0]?.each === 100_000)).toBe(true);
    }
  });

  test('are forty colours at two shops, each of which comes from one of them', () => {
    const { requirements, suppliers } = problemOf(Job.parse(coloursJob(1)));
    expect(requirements.length).toBe(40);
    expect(requirements.every(({ oneSupplier }) => oneSupplier)).toBe(true);
    expect(suppliers.filter(({ own }) => !own).length).toBe(2);
  });

  test('are the same for the same seed, and others for another', () => {
    for (const job of [reelsJob, coloursJob]) {
      expect(job(3)).toEqual(job(3));
      expect(job(5)).not.toEqual(job(3));
    }
  });
});
