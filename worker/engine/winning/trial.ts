import type { Control } from '../model/control.ts';
import type { Offer } from '../model/offer.ts';
import { costOf, sharesOf, takes } from '../sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../sourcing/problem/problem.ts';
import { solveProblem, type Solved } from '../sourcing/solve/solve.ts';
import type { Exact } from '../units/money.ts';
import { isOfUse } from './bought.ts';
import { mustBuy, withoutOffer, withPrices } from './market.ts';
import { offerAt } from './offerPrices.ts';

/** The cheapest mix that buys some of the offer at a price, beside the cheapest that buys none. */
export interface Trial {
  /** The first price of the offer. */
  price: Exact;
  /** The problem at that price. */
  problem: Problem;
  /** The mix; undefined where none buys of it what is of use. */
  plan: Plan | undefined;
  cost: Exact;
  /** Whether the mix leaves no more undone than the one without, and costs no more. */
  wins: boolean;
  /** Whether that is proven. */
  sure: boolean;
  /** Whether no mix with the offer costs less than this one. */
  isLeast: boolean;
  stoppedBy: Solved['stoppedBy'];
}

/** Solves an offer's problem at one price after another. */
export interface Trials {
  without: Solved;
  /** Throws Cancelled. */
  at(price: Exact): Promise<Trial>;
  /** A trial's mix at another price, where it can be ordered so and is then no worse than the one without; else undefined. */
  kept(trial: Trial, price: Exact): Trial | undefined;
  /** How many mixes were solved for. */
  solved(): number;
}

type Ranked = Pick<Solved, 'plan' | 'cost'>;

/** Solves without the offer, and makes ready to solve with it. Throws Cancelled. */
export async function trialsOf(problem: Problem, offer: Offer, control: Control): Promise<Trials> {
  let solved = 0;
  const solve = (given: Problem) => {
    solved++;
    return solveProblem(given, control, { ties: false });
  };
  const without = await solve(withoutOffer(problem, offer.code));
  const priced = (price: Exact) => withPrices(problem, offerAt(offer, price));
  const isReal = (at: Problem, plan: Plan) => isOfUse(at, offer.code, plan);

  /** Whether it is shown that every mix that buys the offer is worse than the one without. */
  const surelyLoses = (at: Problem, found: Solved) => {
    if (undone(found) === undone(without) && found.bound > without.cost) return true;
    // What must be bought and is not counts as undone.
    return found.proven && (isReal(at, found.plan) || compare(found, without) > 0);
  };

  return {
    without,
    solved: () => solved,
    async at(price) {
      const at = priced(price);
      const all: Solved[] = [];
      for (const given of mustBuy(at, offer.code)) all.push(await solve(given));
      const [best] = all.filter(({ plan }) => isReal(at, plan)).sort(compare);
      const wins = best !== undefined && compare(best, without) <= 0;
      return {
        price,
        problem: at,
        plan: best?.plan,
        cost: best?.cost ?? 0n,
        wins,
        sure: wins ? without.proven : all.every((found) => surelyLoses(at, found)),
        isLeast: all.every(({ proven }) => proven),
        stoppedBy: all.find(({ stoppedBy }) => stoppedBy)?.stoppedBy,
      };
    },
    kept({ plan, stoppedBy }, price) {
      const at = priced(price);
      if (!plan || !sharesOf(at, plan).every((share) => takes(at, share))) return undefined;
      const cost = costOf(at, plan);
      if (compare({ plan, cost }, without) > 0) return undefined;
      return { price, problem: at, plan, cost, wins: true, sure: without.proven, isLeast: false, stoppedBy };
    },
  };
}

/** Below nothing where a is better: fewer suppliers insisted on left out, then fewer requirements unmet, then cheaper. */
function compare(a: Ranked, b: Ranked): number {
  const order = undone(a) - undone(b);
  if (order !== 0) return order;
  return a.cost < b.cost ? -1 : a.cost > b.cost ? 1 : 0;
}

/** Suppliers insisted on come before requirements; of either there are fewer than a million. */
const undone = ({ plan }: Pick<Ranked, 'plan'>) => plan.without.length * 1_000_000 + plan.unmet.length;
