import { expect, test } from 'vitest';
import { Cancelled, type Control } from '../../worker/engine/model/control.ts';
import { solveMilp } from '../../worker/engine/solver/milp.ts';
import { ModelBuilder, worstBreach, type MilpModel } from '../../worker/engine/solver/model.ts';
import { unhurried } from './fixtures.ts';

/** Fewest packs of 7 and 5 that hold at least so many pieces, at 4 and 3 each. */
function packs(need: number): MilpModel {
  const builder = new ModelBuilder();
  const sevens = builder.column(4, 0, 100);
  const fives = builder.column(3, 0, 100);
  builder.row(need, Infinity, [
    [sevens, 7],
    [fives, 5],
  ]);
  return builder.build();
}

/** A subset-sum market split: small, but not solved at the root, so that the solver looks at its control. */
function hard(): MilpModel {
  const builder = new ModelBuilder();
  let state = 12345;
  const next = () => (state = (state * 1_103_515_245 + 12_345) % 2 ** 31);
  const columns = Array.from({ length: 40 }, () => builder.column(1 + (next() % 3), 0, 1));
  for (let row = 0; row < 5; row++) {
    const weights = columns.map(() => next() % 100);
    const half = Math.floor(weights.reduce((sum, weight) => sum + weight, 0) / 2);
    builder.row(
      half,
      half,
      columns.map((column, index) => [column, weights[index] ?? 0]),
    );
  }
  return builder.build();
}

test('a model is solved to its optimum in whole numbers, with a bound that meets it', async () => {
  // 19 pieces: 2 × 7 + 1 × 5 = 19 for 11; 4 × 5 = 12; 3 × 7 = 12.
  const answer = await solveMilp(packs(19), unhurried);
  expect(answer).toMatchObject({ status: 'optimal', values: [2, 1], objective: 11 });
  expect(answer.status === 'optimal' && answer.bound).toBeCloseTo(11, 6);
});

test('a model that no values satisfy is infeasible', async () => {
  expect(await solveMilp(packs(10_000), unhurried)).toEqual({ status: 'infeasible' });
});

test('no time at all is an interrupted solve that knows nothing', async () => {
  expect(await solveMilp(packs(19), { ...unhurried, remainingMs: () => 0 })).toEqual({
    status: 'interrupted',
    bound: -Infinity,
    stoppedBy: 'time',
  });
});

test('numbers too large for the solver are an interrupted solve that knows nothing, and not an error', async () => {
  const tooMany = new ModelBuilder();
  tooMany.row(1, Infinity, [[tooMany.column(1, 0, 1e10), 1]]);
  const tooDear = new ModelBuilder();
  tooDear.row(1, Infinity, [[tooDear.column(1e15, 0, 1), 1]]);
  for (const builder of [tooMany, tooDear])
    expect(await solveMilp(builder.build(), unhurried)).toEqual({
      status: 'interrupted',
      bound: -Infinity,
      stoppedBy: 'numbers',
    });
});

test('a solve that is cancelled before it starts throws Cancelled', async () => {
  await expect(solveMilp(packs(19), { ...unhurried, cancelled: () => true })).rejects.toThrow(Cancelled);
});

test('a solve that is cancelled while it works throws Cancelled', async () => {
  let looks = 0;
  const control: Control = { ...unhurried, cancelled: () => ++looks > 1 };
  await expect(solveMilp(hard(), control)).rejects.toThrow(Cancelled);
  expect(looks).toBeGreaterThan(1);
});

test('the same model gives the same values each time', async () => {
  const once = await solveMilp(packs(3001), unhurried);
  expect(await solveMilp(packs(3001), unhurried)).toEqual(once);
});

test('values that break a row or a bound are seen, by how much of the row’s size', () => {
  expect(worstBreach(packs(19), [2, 1])).toBe(0);
  // 14 of 19: 5 too few, the largest term is 14.
  expect(worstBreach(packs(19), [2, 0])).toBeCloseTo(5 / 14, 12);
  expect(worstBreach(packs(0), [101, 0])).toBe(1);
});
