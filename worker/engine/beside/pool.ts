import { costOf } from '../sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../sourcing/problem/problem.ts';
import type { Solved } from '../sourcing/solve/solve.ts';
import type { Exact } from '../units/money.ts';
import { isWithin, satisfies, type Conditions, type Traits } from './conditions.ts';
import { meetsSome, mixOf, setOf, type Mix, type Quoted } from './mix.ts';

/** A mix that is known, from whichever look. */
interface Known extends Traits {
  plan: Plan;
  cost: Exact;
}

/**
 * What is proven of all mixes that satisfy some conditions: none leaves fewer requirements unmet than `fewest` (Infinity: there is
 * none at all), and none that leaves no more than `unmet` costs less than `bound`.
 */
export interface Fact {
  conditions: Conditions;
  fewest: number;
  unmet: number;
  bound: Exact;
}

/** What is known of the cheapest mix under some conditions. */
export interface Answer {
  /** The best that is known: fewest requirements unmet, then least cost. */
  mix: Mix | undefined;
  /** It is proven that there is none. */
  isNone: boolean;
}

/**
 * All mixes that are known, from whichever look at a problem, priced by one function, and all that is proven of mixes. Each
 * row beside the quote, and the quote itself, is the best of the pool that satisfies the row's conditions, with the highest
 * bound that holds for these: so no row is worse than another that satisfies its conditions too, and no bound of stricter
 * conditions is lower than one of looser ones.
 */
export class Pool {
  readonly problem: Problem;
  /** By choice, the days that what comes with the first order takes, where that is known. */
  readonly leads: readonly (number | undefined)[];
  /** Whether some solve was ended by time or numbers: with more time the pool may come to hold something else. */
  isCut = false;
  readonly #mixes: Known[] = [];
  readonly #facts: Fact[] = [];

  /** `solved`: the quote as it was found. */
  constructor(problem: Problem, leads: readonly (number | undefined)[], solved: Solved) {
    this.problem = problem;
    this.leads = leads;
    const { plan, bound, proven } = solved;
    this.#mixes.push(this.#known(plan));
    const unmet = plan.unmet.length;
    this.learn({ conditions: this.asked(), unmet, bound, fewest: proven ? unmet : 0 });
  }

  /** Takes in a plan of the problem, or of one whose plans are plans of it; one that another is as good as in all is left. */
  add(plan: Plan): void {
    if (!meetsSome(this.problem, plan)) return;
    const known = this.#known(plan);
    if (!this.#mixes.some((other) => isAsGood(other, known))) this.#mixes.push(known);
  }

  learn(fact: Fact): void {
    this.#facts.push(fact);
  }

  /** The best mix for the quote: fewest suppliers left out who are insisted on, fewest requirements unmet, least cost. */
  quote(): Quoted {
    const { plan, cost } = best(this.#mixes) ?? this.#mixes[0]!;
    return {
      problem: this.problem,
      plan,
      cost,
      bound: this.#bounded({ plan, cost }, this.#askedBy(plan)).bound,
    };
  }

  /** What is asked of each mix beside the quote: from no more suppliers, and from all insisted on from whom the quote buys. */
  asked(): Conditions {
    return this.#askedBy((best(this.#mixes) ?? this.#mixes[0]!).plan);
  }

  answer(conditions: Conditions): Answer {
    const mix = best(this.#mixes.filter((known) => satisfies(known, conditions)));
    return {
      mix: mix && this.#bounded(mix, conditions),
      isNone: !mix && this.fewest(conditions) === Infinity,
    };
  }

  /** Each mix under the conditions leaves so many requirements unmet at the least. */
  fewest(conditions: Conditions): number {
    return this.#facts.reduce(
      (most, fact) => (fact.fewest > most && isWithin(conditions, fact.conditions) ? fact.fewest : most),
      0,
    );
  }

  /** No mix under the conditions that leaves no more requirements unmet than so many costs less than this. */
  bound(conditions: Conditions, unmet: number): Exact {
    return this.#facts.reduce(
      (most, fact) =>
        fact.bound > most && unmet <= fact.unmet && isWithin(conditions, fact.conditions) ? fact.bound : most,
      0n,
    );
  }

  #askedBy({ without }: Plan): Conditions {
    const { insistOn, atMostSuppliers = Infinity } = this.problem;
    const from = insistOn.filter((code) => !without.includes(code));
    return { atMost: atMostSuppliers, from, shut: [], days: Infinity };
  }

  #bounded({ plan, cost }: Pick<Known, 'plan' | 'cost'>, conditions: Conditions): Mix {
    const unmet = plan.unmet.length;
    const found = this.bound(conditions, unmet);
    const mix = mixOf(this.problem, { plan, cost, bound: found < cost ? found : cost });
    return { ...mix, proven: mix.proven && this.fewest(conditions) >= unmet };
  }

  #known(plan: Plan): Known {
    const suppliers = setOf(this.problem, plan);
    const without = this.problem.insistOn.filter((code) => !suppliers.includes(code));
    return {
      plan: without.join() === plan.without.join() ? plan : { ...plan, without },
      cost: costOf(this.problem, plan),
      suppliers,
      lastDay: latestIn(plan, this.leads) ?? -Infinity,
    };
  }
}

/** Of equals the first. */
function best(mixes: readonly Known[]): Known | undefined {
  return mixes.reduce<Known | undefined>(
    (first, mix) => (first && !isBetter(mix, first) ? first : mix),
    undefined,
  );
}

function isBetter({ plan, cost }: Known, than: Known): boolean {
  const without = plan.without.length - than.plan.without.length;
  const unmet = plan.unmet.length - than.plan.unmet.length;
  return without < 0 || (without === 0 && (unmet < 0 || (unmet === 0 && cost < than.cost)));
}

/** Whether a mix satisfies whatever the other does, and is no worse. */
function isAsGood(one: Known, other: Known): boolean {
  return (
    one.lastDay <= other.lastDay &&
    one.plan.unmet.length <= other.plan.unmet.length &&
    one.cost <= other.cost &&
    one.suppliers.join() === other.suppliers.join()
  );
}

/** The last day on which something comes with the first order, as far as it is known. */
export function latestIn(
  { units }: Pick<Plan, 'units'>,
  leads: readonly (number | undefined)[],
): number | undefined {
  return leads.reduce<number | undefined>(
    (last, lead, at) => (lead !== undefined && (units[at] ?? 0) > 0 ? Math.max(last ?? lead, lead) : last),
    undefined,
  );
}
