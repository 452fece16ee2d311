import type { Offer } from '../../worker/engine/model/offer.ts';
import { ladderOf, type Rung } from './ladders.ts';
import type { Rules } from './rules.ts';

/** A requirement as the brute force sees it: so many pieces or mm, the offers that serve it, and whether one must do. */
export interface Demand {
  need: number;
  offers: Offer[];
  oneOffer: boolean;
}

/** A supplier as the brute force sees it, with the value above which buying less never raises its postage. */
export interface Seller {
  code: string;
  settledAbove: number;
}

/** What is bought, as far as its cost goes: goods at each supplier, and at which something is bought at all. */
export interface Mix {
  goods: readonly number[];
  used: readonly boolean[];
  spent: number;
}

/** One climbed ladder: its supplier's place, the rung reached, and the rung below it. */
interface Climb {
  seller: number;
  rung: Rung;
  below: Rung;
}

const GROUND: Rung = { gives: 0, costs: 0 };

/** Every way to meet a demand for at most so much that the argument at `bruteForceCost` does not shut out. */
export function waysToMeet(demand: Demand, sellers: readonly Seller[], rules: Rules, most: number): Mix[] {
  const ladders = demand.offers.map((offer) => ({
    seller: sellers.findIndex((seller) => seller.code === offer.supplier),
    rungs: () => ladderOf(offer, demand.need, rules),
  }));
  const ways: Mix[] = [];

  function climb(index: number, climbs: Climb[], given: number, spent: number): void {
    const ladder = ladders[index];
    if (!ladder) {
      if (given < demand.need) return;
      const mix = asMix(climbs, sellers.length);
      const couldStepDown = climbs.filter(
        ({ rung, below }) => given - rung.gives + below.gives >= demand.need,
      );
      const pointless = ({ seller, rung, below }: Climb) =>
        !rules.overbuying ||
        (mix.goods[seller] ?? 0) - rung.costs + below.costs >= (sellers[seller]?.settledAbove ?? 0);
      if (!couldStepDown.some(pointless)) ways.push(mix);
      return;
    }
    climb(index + 1, climbs, given, spent);
    if (demand.oneOffer && climbs.length > 0) return;
    let below = GROUND;
    for (const rung of ladder.rungs()) {
      if (spent + rung.costs > most) break;
      const climbed = [...climbs, { seller: ladder.seller, rung, below }];
      climb(index + 1, climbed, given + rung.gives, spent + rung.costs);
      if (rung.costs === 0 && rung.gives >= demand.need) break;
      below = rung;
    }
  }
  climb(0, [], 0, 0);
  return distinct(ways);
}

/** The least goods that meet a demand by one offer alone. Infinity where none serves it. */
export function leastByOneOffer(demand: Demand, rules: Rules): number {
  const each = demand.offers.map((offer) => {
    for (const rung of ladderOf(offer, demand.need, rules)) if (rung.gives >= demand.need) return rung.costs;
    return Infinity;
  });
  return Math.min(...each);
}

export function cheapestGoods(mixes: readonly Mix[]): Mix | undefined {
  return mixes.reduce<Mix | undefined>(
    (best, mix) => (best && best.spent <= mix.spent ? best : mix),
    undefined,
  );
}

export function nothing(sellers: number): Mix {
  return { goods: Array<number>(sellers).fill(0), used: Array<boolean>(sellers).fill(false), spent: 0 };
}

export function together(a: Mix, b: Mix): Mix {
  return {
    goods: a.goods.map((value, index) => value + (b.goods[index] ?? 0)),
    used: a.used.map((used, index) => used || b.used[index] === true),
    spent: a.spent + b.spent,
  };
}

/** One of each: mixes with the same goods at the same suppliers cost the same. */
export function distinct(mixes: Iterable<Mix>): Mix[] {
  const seen = new Map<string, Mix>();
  for (const mix of mixes) seen.set(`${mix.goods.join()} ${mix.used.join()}`, mix);
  return [...seen.values()];
}

function asMix(climbs: readonly Climb[], sellers: number): Mix {
  const goods = Array<number>(sellers).fill(0);
  const used = Array<boolean>(sellers).fill(false);
  for (const { seller, rung } of climbs) {
    goods[seller] = (goods[seller] ?? 0) + rung.costs;
    used[seller] = true;
  }
  return { goods, used, spent: goods.reduce((sum, value) => sum + value, 0) };
}
