import { describe, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { cuttingJob } from './cutting.ts';
import { problemOf } from './direct.ts';

const SEEDS = Array.from({ length: 10 }, (_, index) => index + 1);

describe('the cutting family', () => {
  test('is 1,000 pieces of 100 distinct lengths of 120 to 2,400 mm out of four lengths', () => {
    for (const seed of SEEDS) {
      const { requirements, choices } = problemOf(Job.parse(cuttingJob(seed)));
      const [requirement, ...more] = requirements;
      expect(more).toEqual([]);
      expect(requirement?.how).toBe('cut');
      const pieces = requirement?.pieces ?? [];
      expect(pieces.length).toBe(100);
      expect(pieces.reduce((sum, { count }) => sum + count, 0)).toBe(1_000);
      expect(Math.max(...pieces.map(({ mm }) => mm))).toBeLessThanOrEqual(2_400);
      expect(Math.min(...pieces.map(({ mm }) => mm))).toBeGreaterThanOrEqual(120);
      expect(new Set(choices.map(({ serves }) => serves[0]?.each)).size).toBe(4);
    }
  });

  test('has jobs of one supplier and of two', () => {
    expect(new Set(SEEDS.map((seed) => cuttingJob(seed).suppliers.length))).toEqual(new Set([1, 2]));
  });

  test('is the same for the same seed, and another for another', () => {
    expect(cuttingJob(3)).toEqual(cuttingJob(3));
    expect(cuttingJob(5)).not.toEqual(cuttingJob(3));
  });
});
