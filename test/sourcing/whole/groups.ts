import type { Job } from '../../../worker/engine/model/job.ts';
import { amountsOf } from './amounts.ts';
import { coversOf, type Place } from './covers.ts';
import type { Market } from './market.ts';
import { isOnSale, serves } from './onSale.ts';
import type { Rules } from './rules.ts';
import type { Requirement } from './scenarios.ts';
import type { Column, Group } from './ways.ts';

/** Every choice of so many out of a list. */
export function choices<T>(list: readonly T[], many: number): T[][] {
  const [first, ...rest] = list;
  if (many === 0) return [[]];
  if (many < 0 || first === undefined) return [];
  return [...choices(rest, many - 1).map((chosen) => [first, ...chosen]), ...choices(rest, many)];
}

interface Question {
  met: readonly Requirement[];
  market: Market;
  rules: Rules;
}

/**
 * The requirements by what offers they share, each group with the offers that serve one of it at least: nothing is bought for
 * what stays unmet.
 */
export function groupsOf(job: Job, { met, market, rules }: Question, values: 'all' | 'minimum'): Group[] {
  const places = job.offers.flatMap((offer) =>
    Array.from({ length: market.waves }, (_, index): Place => ({ offer, wave: index + 1 })).filter(
      ({ wave }) =>
        isOnSale(job, offer, wave, rules) && met.some((requirement) => serves(offer, requirement, rules)),
    ),
  );
  return linked(met, places, rules).map((requirements) => {
    const here = places.filter(({ offer }) =>
      requirements.some((requirement) => serves(offer, requirement, rules)),
    );
    const covers = coversOf(requirements, here, rules);
    const columns = here.map((place, index): Column => {
      const { offer, wave } = place;
      const served = requirements.filter((requirement) => serves(offer, requirement, rules));
      if (served.length > 1 && served.some(({ rolledUp }) => rolledUp.kind === 'length'))
        throw new Error(`${offer.code} serves two needs by length, which is not enumerated`);
      const seller = market.sellers.findIndex(({ code }) => code === offer.supplier);
      const terms = market.sellers[seller];
      if (!terms) throw new Error(`no supplier ${offer.supplier}`);
      const asked = covers.map(({ required, each }) => ({ required, each: each[index] ?? 0 }));
      const amounts = amountsOf(job, place, asked, requirements, terms, rules, values);
      return {
        offer,
        wave,
        seller,
        parcel: market.parcelOf(seller, wave),
        amounts: amounts.map((amount) => ({ ...amount, least: market.leastOf(seller, amount.costs) })),
      };
    });
    return { requirements, columns, covers: covers.filter(({ required }) => required > 0) };
  });
}

/** Requirements that share an offer, or pieces on the shelf, through any number of them. */
function linked(
  requirements: readonly Requirement[],
  places: readonly Place[],
  rules: Rules,
): Requirement[][] {
  let groups = requirements.map((requirement) => [requirement]);
  const join = (isTouched: (requirement: Requirement) => boolean) => {
    const touched = groups.filter((group) => group.some(isTouched));
    if (touched.length > 1) groups = [...groups.filter((group) => !touched.includes(group)), touched.flat()];
  };
  for (const offer of new Set(places.map((place) => place.offer)))
    join((requirement) => serves(offer, requirement, rules));
  for (const part of new Set(requirements.flatMap(({ shelf }) => [...shelf.pieces.keys()])))
    join(({ shelf }) => shelf.pieces.has(part));
  return groups;
}
