import { expect, test } from 'vitest';
import { Job } from '../../../worker/engine/model/job.ts';
import { solveProblem } from '../../../worker/engine/sourcing/solve/solve.ts';
import { direct, problemOf } from '../../bench/direct.ts';
import { shopsJob } from '../../bench/shops.ts';
import { endingAfter } from './endingAfter.ts';

test('wherever time ends, the least cost lies between the bound and the cost, and only it is called proven', async () => {
  let stopped = 0;
  for (const seed of [3, 4]) {
    const size = { requirements: 8, suppliers: 4, offers: 40, correlated: seed % 2 === 0 };
    const problem = problemOf(Job.parse(shopsJob({ ...size, seed })));
    const { cost: least, proven } = await direct(problem, 60);
    expect(proven).toBe(true);
    if (least === undefined) throw new Error('nothing was found');
    for (let asked = 0; asked <= 24; asked += 6) {
      const best: number[] = [];
      const bounds: number[] = [];
      const solved = await solveProblem(problem, endingAfter(asked), {
        ties: false,
        onProgress: (known) => {
          if (known.best !== undefined) best.push(known.best);
          if (known.bound !== undefined) bounds.push(known.bound);
        },
      });
      expect(solved.bound <= least && least <= solved.cost).toBe(true);
      expect(solved.proven).toBe(solved.cost === least && solved.bound === least);
      if (!solved.proven) {
        stopped++;
        expect(solved.stoppedBy).toBe('time');
      }
      expect(best).toEqual([...best].sort((a, b) => b - a));
      expect(bounds).toEqual([...bounds].sort((a, b) => a - b));
    }
  }
  expect(stopped).toBeGreaterThan(1);
});
