import type { NetworkRequirement } from './network.ts';
import type { LinkPrices, Part } from './prices.ts';

/** Plans of a requirement that are written out, at given prices of steps: each at the sum of its parts, in their cheapest parcels. */
export class PlanList {
  readonly #prices: ReadonlyMap<number, LinkPrices | undefined>;
  readonly #best: NonNullable<NetworkRequirement['listed']>[number];
  /** What the cheapest plan costs; Infinity where there is none. */
  readonly least: number;

  constructor(
    plans: NonNullable<NetworkRequirement['listed']>,
    prices: ReadonlyMap<number, LinkPrices | undefined>,
  ) {
    this.#prices = prices;
    let [best, least]: [NonNullable<NetworkRequirement['listed']>[number], number] = [[], Infinity];
    for (const plan of plans) {
      let cost = 0;
      for (const { link, step } of plan) cost += prices.get(link)?.costs[step] ?? Infinity;
      if (cost < least) [best, least] = [plan, cost];
    }
    this.#best = best;
    this.least = least;
  }

  /** The cheapest plan. */
  plan(): Part[] {
    return this.#best.map(({ link, step }) => ({
      link,
      step,
      parcel: this.#prices.get(link)?.parcels[step] ?? -1,
    }));
  }
}
