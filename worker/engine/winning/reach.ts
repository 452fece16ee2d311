import { sharesOf } from '../sourcing/problem/pricing.ts';
import { lineCost } from '../sourcing/problem/units.ts';
import type { Exact } from '../units/money.ts';
import { boughtOf } from './bought.ts';
import { above, atMost, middle } from './grid.ts';
import type { Trial, Trials } from './trial.ts';

/** From a price at which a trial's mix holds, the highest one under `below` up to which halving finds that it does. */
export function climbed(trials: Trials, trial: Trial, from: Exact, below: Exact): Exact {
  let [low, high] = [from, below];
  while (above(low) < high) {
    const price = middle(low, high);
    if (trials.kept(trial, price)) low = price;
    else high = price;
  }
  return low;
}

/** The highest price found under `below` at which a trial's mix holds. */
export function reached(trials: Trials, offer: string, trial: Trial, below: Exact): Exact | undefined {
  const from = likely(trials, offer, trial)
    .flatMap((price) => [atMost(price), above(price)])
    .filter((price) => price >= 0n && price < below)
    .sort((a, b) => (a > b ? -1 : 1))
    .find((price) => trials.kept(trial, price));
  return from === undefined ? undefined : climbed(trials, trial, from, below);
}

/**
 * Prices near which a mix may begin to hold: nothing; where its cost falls to that of the mix without, were its charges
 * to stay; where a parcel's goods come to where one of its bands begins or ends.
 */
function likely({ without }: Trials, offer: string, { price, problem, plan, cost }: Trial): Exact[] {
  if (!plan || price === 0n) return [0n];
  const bought = boughtOf(problem, offer, plan);
  const shares = sharesOf(problem, plan).map((share) => ({
    ...share,
    own: bought.reduce(
      (sum, { choice, units }) => sum + (choice.supplier === share.supplier ? lineCost(choice, units) : 0n),
      0n,
    ),
  }));
  const slope = shares.reduce((sum, { own, rate }) => sum + own * rate, 0n);
  const even = slope === 0n ? [] : [price - ((cost - without.cost) * price) / slope];
  const limits = shares.flatMap(({ supplier, goods, own }) =>
    own === 0n
      ? []
      : (problem.suppliers[supplier]?.bands ?? []).flatMap(({ from, below }) =>
          [from, below ?? from].map((limit) => ((limit - goods + own) * price) / own),
        ),
  );
  return [0n, ...even, ...limits];
}
