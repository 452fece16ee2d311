import type { Job } from '../../../worker/engine/model/job.ts';
import { amountsOf, isUsable, piecesOf, serves } from './amounts.ts';
import { sellerOf, type Seller } from './charges.ts';
import { checked } from '../exactMoney.ts';
import { delivered, mixOf, together, type Line, type Mix } from './mix.ts';
import { needsOf, type Need } from './needs.ts';
import { RULES_ON, type Rules } from './rules.ts';
import { waysToMeet, type Column } from './ways.ts';

/** How many needs stay unmet, and the least delivered cost of the others, in ten-millionths of a minor unit. */
export interface Outcome {
  unsourced: number;
  cost: bigint;
}

/**
 * The least number of unmet needs, and then the least delivered cost, by trying every purchase: which needs are met, how
 * many of each kit, and for each need every amount of every offer. Shares nothing with the engine but the job's schema.
 *
 * The amounts of one offer end where `amountsOf` shows that nothing cheaper lies above. They are tried twice: first only as
 * far as it takes to meet needs and minimum orders, which tells whether these needs can be met together and gives the
 * cost U of one mix; then as far as breaks and thresholds reach, for goods of at most U, since handling and postage are
 * never negative. A combination is left as soon as its goods and the least goods of the needs yet to come reach the best
 * cost found.
 */
export function cheapest(job: Job, rules: Rules = RULES_ON): Outcome {
  const needs = needsOf(job, rules);
  const sellers = job.suppliers.map((supplier) => sellerOf(supplier, rules));
  for (let unsourced = 0; unsourced <= needs.length; unsourced += 1) {
    const costs = choices(needs, needs.length - unsourced).map((met) => costOf(job, met, sellers, rules));
    const best = Math.min(...costs);
    if (best < Infinity) return { unsourced, cost: BigInt(checked(best)) };
  }
  throw new Error('even nothing cannot be bought');
}

/** Every choice of so many out of a list. */
function choices<T>(list: readonly T[], many: number): T[][] {
  const [first, ...rest] = list;
  if (many === 0) return [[]];
  if (first === undefined) return [];
  return [...choices(rest, many - 1).map((chosen) => [first, ...chosen]), ...choices(rest, many)];
}

function costOf(job: Job, needs: readonly Need[], sellers: readonly Seller[], rules: Rules): number {
  const atHand = leastCost(columnsOf(job, needs, sellers, rules, 'minimum'), needs, sellers, rules, Infinity);
  if (atHand === Infinity) return Infinity;
  return leastCost(columnsOf(job, needs, sellers, rules, 'all'), needs, sellers, rules, atHand);
}

/** The offers that serve one of the needs at least: nothing is bought for what stays unmet. */
function columnsOf(
  job: Job,
  needs: readonly Need[],
  sellers: readonly Seller[],
  rules: Rules,
  values: 'all' | 'minimum',
): Column[] {
  return job.offers.flatMap((offer) => {
    const place = sellers.findIndex(({ code }) => code === offer.supplier);
    const seller = sellers[place];
    if (!seller || !isUsable(job, offer, rules) || !needs.some((need) => serves(offer, need, rules)))
      return [];
    return [{ offer, seller: place, amounts: amountsOf(job, offer, needs, seller, rules, values) }];
  });
}

/** The least delivered cost, or `atHand` where none is less. */
function leastCost(
  columns: readonly Column[],
  needs: readonly Need[],
  sellers: readonly Seller[],
  rules: Rules,
  atHand: number,
): number {
  const kits = columns.filter(({ offer }) => offer.form === 'kit');
  const known = new Map<string, Mix[]>();
  const waysOf = (need: Need, fromKits: number) => {
    const key = `${need.part} ${Math.min(fromKits, need.kind === 'count' ? need.quantity : 0)}`;
    const ways = known.get(key) ?? waysToMeet(need, columns, fromKits, atHand, sellers.length, rules);
    known.set(key, ways);
    return ways;
  };
  let best = atHand;

  const combine = (mix: Mix, waysLeft: readonly { ways: Mix[]; restLeast: number }[]): void => {
    const [next, ...rest] = waysLeft;
    if (!next) {
      best = Math.min(best, delivered(mix, sellers));
      return;
    }
    for (const way of next.ways) {
      if (mix.spent + way.spent + next.restLeast >= best) return;
      combine(together(mix, way), rest);
    }
  };
  const withKits = (index: number, lines: readonly Line[], brought: ReadonlyMap<string, number>): void => {
    const kit = kits[index];
    if (!kit) {
      const mix = mixOf(lines, sellers.length);
      if (mix.spent >= best && best < Infinity) return;
      const each = needs.map((need) => waysOf(need, brought.get(need.part) ?? 0));
      const leasts = each.map((ways) => ways[0]?.spent ?? Infinity);
      combine(
        mix,
        each.map((ways, place) => ({
          ways,
          restLeast: leasts.slice(place + 1).reduce((sum, least) => sum + least, 0),
        })),
      );
      return;
    }
    withKits(index + 1, lines, brought);
    for (const { count, costs, weight } of kit.amounts) {
      const more = new Map(brought);
      for (const { part } of needs) more.set(part, (more.get(part) ?? 0) + count * piecesOf(kit.offer, part));
      withKits(index + 1, [...lines, { seller: kit.seller, costs, weight }], more);
    }
  };
  withKits(0, [], new Map());
  return best;
}
