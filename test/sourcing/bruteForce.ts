import type { Job } from '../../worker/engine/model/job.ts';
import { checked } from './exactMoney.ts';
import { cheapestGoods, distinct, leastByOneOffer, nothing, together, waysToMeet } from './mixes.ts';
import type { Demand, Mix } from './mixes.ts';
import { needsOf, type Need } from './needs.ts';
import { postageOf, settledAbove } from './postage.ts';
import { RULES_ON, type Rules } from './rules.ts';

/**
 * The least delivered cost by trying every mix: a judge of the solver that shares nothing with the engine but the job's
 * schema. In ten-millionths of a minor unit, exact. What no offer serves is left aside.
 *
 * Every mix: for each requirement every way to climb its offers' ladders (how many packs of each, which length from
 * which), and every combination of these over the requirements. The ladders have no end, so they are cut off where they
 * need not be climbed. Of all the cheapest mixes take one with the least goods, and of these one with the fewest pieces
 * and mm; it is never shut out by the following.
 * 1. Let L be the sum over the requirements of the least goods that meet each alone, and U the delivered cost of one mix
 *    that is at hand. Postage is never negative, so the goods of the cheapest mix cost at most U; all other requirements
 *    cost at least their least, so one requirement's goods exceed its own least by at most U - L. Hence each is climbed
 *    while its goods are within its least plus U - L, and a combination is followed while all that was spent above the
 *    leasts is within U - L.
 * 2. A rung that could be the rung below, the need still met and the supplier's postage not raised by it, is not
 *    climbed: the mix one step lower costs no more, and has less goods or fewer pieces.
 * 3. An offer at price 0 is climbed to the first rung that meets the need by itself, for the same reason.
 *
 * Two mixes with the same goods at each supplier, from the same suppliers, cost the same, so one of each is kept.
 */
export function bruteForceCost(job: Job, rules: Rules = RULES_ON): bigint {
  const sellers = job.suppliers.map((supplier) => ({
    code: supplier.code,
    settledAbove: settledAbove(supplier, rules),
  }));
  const postages = job.suppliers.map((supplier) => postageOf(supplier, rules));
  const delivered = (mix: Mix) =>
    postages.reduce(
      (cost, postage, index) => cost + (mix.used[index] ? postage(mix.goods[index] ?? 0) : 0),
      mix.spent,
    );

  const sourced = needsOf(job).flatMap((need) => {
    const demand = demandOf(job, need, rules);
    const ways = waysToMeet(demand, sellers, { ...rules, overbuying: false }, leastByOneOffer(demand, rules));
    const cheapest = cheapestGoods(ways);
    return cheapest ? [{ demand, ways, cheapest }] : [];
  });
  const none = nothing(sellers.length);
  const least = sourced.reduce((sum, { cheapest }) => sum + cheapest.spent, 0);

  // At hand: each requirement at its least or by a mix that costs no more than its cheapest single offer.
  const atHand = leastCost(
    sourced.map(({ ways, cheapest }) => ({ ways, least: cheapest.spent })),
    Infinity,
  );
  return BigInt(
    checked(
      leastCost(
        sourced.map(({ demand, cheapest }) => ({
          ways: waysToMeet(demand, sellers, rules, cheapest.spent + atHand - least),
          least: cheapest.spent,
        })),
        atHand - least,
      ),
    ),
  );

  /** The least delivered cost over every combination in which what is spent above the leasts is within the slack. */
  function leastCost(requirements: { ways: Mix[]; least: number }[], slack: number): number {
    let mixes = [none];
    let spent = 0;
    let best = Infinity;
    requirements.forEach((requirement, index) => {
      spent += requirement.least;
      const grown = combinations(mixes, requirement.ways, spent + slack);
      if (index < requirements.length - 1) mixes = distinct(grown);
      else for (const mix of grown) best = Math.min(best, delivered(mix));
    });
    return requirements.length === 0 ? 0 : best;
  }
}

function* combinations(mixes: readonly Mix[], ways: readonly Mix[], most: number): Generator<Mix> {
  for (const mix of mixes)
    for (const way of ways) if (mix.spent + way.spent <= most) yield together(mix, way);
}

function demandOf(job: Job, need: Need, rules: Rules): Demand {
  if (need.kind === 'count') {
    const offers = job.offers.filter((offer) => offer.form === 'pack' && offer.part === need.part);
    return { need: need.quantity, offers, oneOffer: !rules.mixedOffers };
  }
  const parts = rules.equalParts ? need.parts : [...need.parts].sort().slice(0, 1);
  const offers = job.offers.filter((offer) => offer.form === 'metre' && parts.includes(offer.part));
  return { need: need.totalMm, offers, oneOffer: rules.oneLength };
}
