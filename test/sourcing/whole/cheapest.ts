import type { Job } from '../../../worker/engine/model/job.ts';
import { choices, groupsOf } from './groups.ts';
import { marketOf, type Market } from './market.ts';
import { mixOf, together, type Mix } from './mix.ts';
import { isOnSale, serves } from './onSale.ts';
import { waveOf } from './requirements.ts';
import { compare, ratio, type Ratio } from './ratio.ts';
import { RULES_ON, type Rules } from './rules.ts';
import { scenariosOf, type Requirement } from './scenarios.ts';
import { waysToMeet, type Group } from './ways.ts';

/** What the cheapest purchase leaves undone, and what it costs in the club's currency, unrounded. */
export interface Outcome {
  /** Suppliers that are insisted on, but from whom nothing can be bought with what else is asked. */
  missing: number;
  unmet: number;
  cost: Ratio;
}

/**
 * As many as can be of the suppliers that are insisted on, the least number of unmet needs, and then the least cost of parcels with their nuisance, by trying every purchase:
 * which family stands in for which, which needs are met, and every amount of every offer in every order. Shares nothing
 * with the engine but the job's schema.
 *
 * The amounts of one offer end where `amountsOf` shows that nothing cheaper lies above. They are tried twice: first only
 * as far as it takes to meet requirements and minimum orders, which tells whether these needs can be met together and gives the
 * cost of one purchase; then as far as breaks and thresholds reach, as long as less than that cost is possible. Needs
 * that share no offer are worked apart, and their ways put together; a combination is left as soon as the least that it
 * may cost with the least of the needs yet to come reaches the best cost found.
 */
export function cheapest(job: Job, rules: Rules = RULES_ON): Outcome {
  const market = marketOf(job, rules);
  const scenarios = scenariosOf(job, rules);
  const insisted = insistedOn(job, scenarios.flat(), rules);
  const most = Math.max(...scenarios.map((requirements) => requirements.length));
  for (let missing = 0; missing <= insisted.length; missing += 1)
    for (let unmet = 0; unmet <= most; unmet += 1) {
      let best: bigint | undefined;
      for (const from of choices(insisted, insisted.length - missing))
        for (const requirements of scenarios)
          for (const met of choices(requirements, requirements.length - unmet))
            best = costOf(job, { met, market, insisted: from, rules }, best) ?? best;
      if (best !== undefined) return { missing, unmet, cost: ratio(best, market.scale) };
    }
  throw new Error('even nothing cannot be bought');
}

interface Question {
  met: readonly Requirement[];
  market: Market;
  insisted: readonly number[];
  rules: Rules;
}

/** Places of the suppliers from whom something must come: of those who sell something that is needed at all. */
function insistedOn(job: Job, requirements: readonly Requirement[], rules: Rules): number[] {
  const named = rules.insistOn ? (job.request.insistOn ?? []) : [];
  return [...new Set(named)]
    .filter((supplier) => sellsNeeded(job, supplier, requirements, rules))
    .map((name) => job.suppliers.findIndex(({ code }) => code === name));
}

/** Whether a supplier sells something, in some order, that serves one of the requirements. */
export function sellsNeeded(
  job: Job,
  supplier: string,
  requirements: readonly Requirement[],
  rules: Rules,
): boolean {
  const waves = job.request.looms.map((line) => waveOf(line, rules));
  return job.offers.some(
    (offer) =>
      offer.supplier === supplier &&
      waves.some((wave) => isOnSale(job, offer, wave, rules)) &&
      requirements.some((requirement) => serves(offer, requirement, rules)),
  );
}

/** The least cost, where it is below `atHand`. */
function costOf(job: Job, question: Question, atHand: bigint | undefined): bigint | undefined {
  if (atHand !== undefined) return leastCost(groupsOf(job, question, 'all'), question, atHand);
  const first = anyCost(groupsOf(job, question, 'minimum'), question);
  return first === undefined
    ? undefined
    : (leastCost(groupsOf(job, question, 'all'), question, first) ?? first);
}

/** What one purchase costs, looked for among cheap ones first, so that dear ones are seldom gone through. */
function anyCost(groups: readonly Group[], question: Question): bigint | undefined {
  const dearest = groups
    .flatMap(({ columns }) => columns)
    .reduce((sum, { amounts }) => sum + (amounts.at(-1)?.least ?? 0n), 0n);
  for (const part of [64n, 16n, 4n]) {
    const found = leastCost(groups, question, dearest / part);
    if (found !== undefined) return found;
  }
  return leastCost(groups, question, undefined);
}

/** The least cost below `atHand`; undefined where there is none. */
function leastCost(
  groups: readonly Group[],
  { market, insisted, rules }: Question,
  atHand: bigint | undefined,
): bigint | undefined {
  let leastBefore = 0n;
  const waysOf: Mix[][] = [];
  for (const group of groups) {
    const most = atHand === undefined ? undefined : atHand - leastBefore;
    const ways = waysToMeet(group, most, market.parcels, rules);
    if (!ways[0]) return undefined;
    leastBefore += ways[0].least;
    waysOf.push(ways);
  }
  waysOf.sort((a, b) => a.length - b.length);
  const restLeast = waysOf.map((_, place) =>
    waysOf.slice(place + 1).reduce((sum, ways) => sum + (ways[0]?.least ?? 0n), 0n),
  );
  let best: bigint | undefined;
  const limit = () => best ?? atHand;
  const combine = (mix: Mix, place: number): void => {
    if (!market.isAllowed(mix)) return;
    const ways = waysOf[place];
    if (!ways) {
      const cost = hasAll(market.usedBy(mix), insisted) ? market.costOf(mix) : undefined;
      const bar = limit();
      if (cost !== undefined && (bar === undefined || cost < bar)) best = cost;
      return;
    }
    const before = mix.least + market.onceOf(mix) + (restLeast[place] ?? 0n);
    for (const way of ways) {
      const bar = limit();
      if (bar !== undefined && before + way.least >= bar) return;
      combine(together(mix, way), place + 1);
    }
  };
  combine(mixOf([], market.parcels), 0);
  return best;
}

function hasAll(used: ReadonlySet<number>, insisted: readonly number[]): boolean {
  return insisted.every((place) => used.has(place));
}

/** Below zero where a is better than b, zero where they are as good. */
export function compareOutcomes(a: Outcome, b: Outcome): number {
  return a.missing - b.missing || a.unmet - b.unmet || compare(a.cost, b.cost);
}
