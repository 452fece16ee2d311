import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { solveMilp } from '../../worker/engine/solver/milp.ts';
import { ModelBuilder, type MilpModel } from '../../worker/engine/solver/model.ts';
import { randomFrom } from '../sourcing/random.ts';
import { unhurried } from './fixtures.ts';

/** One way to buy something: a price a unit, a charge that is due if any is bought, so many at the most. */
interface Seller {
  price: number;
  charge: number;
  most: number;
}

interface Small {
  need: number;
  sellers: Seller[];
  /** Far above anything that is bought: the limit that ties units to their charge. */
  bigM: number;
}

/** Needs of a few units from a few sellers with fixed charges, the limit far too large. */
function small(seed: number): Small {
  const random = randomFrom(seed);
  const sellers = Array.from({ length: random.whole(2, 5) }, () => ({
    price: random.whole(1, 60),
    charge: random.whole(0, 400),
    most: random.whole(1, 6),
  }));
  const all = sellers.reduce((sum, { most }) => sum + most, 0);
  return { need: random.whole(1, all), sellers, bigM: random.pick([1e3, 1e4, 1e5, 1e6]) };
}

function modelOf({ need, sellers, bigM }: Small): MilpModel {
  const builder = new ModelBuilder();
  const columns = sellers.map(({ price, charge, most }) => ({
    units: builder.column(price, 0, most),
    yes: builder.column(charge, 0, 1),
  }));
  builder.row(
    need,
    Infinity,
    columns.map(({ units }) => [units, 1] as const),
  );
  for (const { units, yes } of columns)
    builder.row(-Infinity, 0, [
      [units, 1],
      [yes, -bigM],
    ]);
  return builder.build();
}

/** The least cost, by trying every number of units of every seller. */
function enumerated({ need, sellers }: Small): number {
  const [first, ...others] = sellers;
  if (!first) return need > 0 ? Infinity : 0;
  let best = Infinity;
  for (let units = 0; units <= first.most; units++) {
    const rest = enumerated({ need: need - units, sellers: others, bigM: 0 });
    best = Math.min(best, rest + units * first.price + (units > 0 ? first.charge : 0));
  }
  return best;
}

// A core before 1.15 was seen to call wrong mixes of such small models optimal.
describe('small models with a limit far too large', () => {
  test('are solved by a solver of version 1.15 or later', () => {
    const file = new URL('../../node_modules/highs/package.json', import.meta.url);
    const { version } = JSON.parse(readFileSync(file, 'utf8')) as { version: string };
    const [major = 0, minor = 0] = version.split('.').map(Number);
    expect(major > 1 || (major === 1 && minor >= 15)).toBe(true);
  });

  test('come out as trying everything does', async () => {
    const apart: { seed: number; found: number; best: number }[] = [];
    for (let seed = 1; seed <= 300; seed++) {
      const model = small(seed);
      const answer = await solveMilp(modelOf(model), unhurried);
      const found = answer.status === 'optimal' ? answer.objective : NaN;
      const best = enumerated(model);
      if (found !== best) apart.push({ seed, found, best });
    }
    expect(apart).toEqual([]);
  });
});
