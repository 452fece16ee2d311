import type { Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network, NetworkRequirement } from './network.ts';
import { undominatedPlans } from './undominatedPlans.ts';
import { PlanTable, pricesInParcels, type Ground, type Part } from './prices.ts';

/** By requirement: its plans; none of one that is loose; units, where they are too many to be written out. */
export type Completed = readonly (readonly Part[][] | 'units')[];

/** Plans of one requirement are written out up to so many, by so many steps of looking, and kept up to so many. */
const MOST_WRITTEN = 4_000;
const MOST_LOOKS = 40_000;
const MOST_KEPT = 200;

/** What is bought by units counts as so many plans: as many as are written out at the most; fewer where pieces of kits make them many, which the solver is quick with. */
const BY_UNITS = MOST_KEPT;
const BY_PIECES = 30;

/** How many plans they are to a solver. */
export function sizeOf({ requirements, links }: Network, plans: Completed): number {
  return plans.reduce((sum, list, at) => {
    if (list !== 'units') return sum + list.length;
    const hasPieces = requirements[at]!.links.some((link) => links[link]!.shared !== undefined);
    return sum + (hasPieces ? BY_PIECES : BY_UNITS);
  }, 0);
}

/**
 * All plans whose reduced cost leaves room under a limit, without those that others do as well as: what a cheaper mix can be
 * made of: of a mix under the limit with plan p, bound + price_r(p) − min price_r is no more than it costs, so that
 * price_r(p) ≤ min price_r + (limit − bound). Plans with a part that is not needed are left out: it may go to making goods up to a limit, which any money does.
 */
export function completePlans(
  network: Network,
  multipliers: Multipliers,
  ground: Ground,
  bound: Bound,
  room: number,
): Completed {
  return network.requirements.map((requirement, at): Part[][] | 'units' => {
    const table = bound.tables[at]!;
    if (requirement.isLoose) return [];
    const most = table.least + room;
    const plans =
      table instanceof PlanTable
        ? plansWithin(network, requirement, table, multipliers, ground, most)
        : listedWithin(network, requirement, multipliers, ground, most);
    const kept = plans && undominatedPlans(network, plans);
    if (!requirement.isSum) return kept ?? [];
    return kept && kept.length <= MOST_KEPT ? kept : 'units';
  });
}

function plansWithin(
  network: Network,
  { links, needs }: NetworkRequirement,
  table: PlanTable,
  multipliers: Multipliers,
  ground: Ground,
  most: number,
): Part[][] | undefined {
  const need = needs.at(-1) ?? 0;
  const found: Part[][] = [];
  const chosen: { part: Part; gives: number; stage: number }[] = [];
  const options = links.map((link) => pricesInParcels(network, multipliers, ground, link));
  let looks = 0;
  const isNeeded = () =>
    chosen.every((one) =>
      needs.some((asked, stage) => {
        if (one.stage > stage) return false;
        const given = chosen.reduce((sum, other) => (other.stage <= stage ? sum + other.gives : sum), 0);
        return given - one.gives < asked;
      }),
    );
  const choose = (at: number, given: number, cost: number): boolean => {
    if (++looks > MOST_LOOKS) return false;
    const least = cost + table.rest(at, given);
    if (least > most || least === Infinity) return true;
    if (at === links.length) {
      if (isNeeded()) found.push(chosen.map(({ part }) => part));
      return found.length <= MOST_WRITTEN;
    }
    if (!choose(at + 1, given, cost)) return false;
    const link = network.links[links[at]!]!;
    if (given >= need) return true;
    for (const { step, parcel, cost: more } of options[at]!) {
      const { gives } = link.steps[step]!;
      chosen.push({ part: { link: links[at]!, step, parcel }, gives, stage: link.stage });
      const goesOn = choose(at + 1, given + gives, cost + more);
      chosen.pop();
      if (!goesOn) return false;
    }
    return true;
  };
  // In coarser counting something may seem enough that is not.
  return !table.isCoarse && choose(0, 0, 0) ? found : undefined;
}

/** Plans that are written out, in each way to spread them over parcels that leaves room. */
function listedWithin(
  network: Network,
  { links, listed = [] }: NetworkRequirement,
  multipliers: Multipliers,
  ground: Ground,
  most: number,
): Part[][] {
  const options = new Map(links.map((link) => [link, pricesInParcels(network, multipliers, ground, link)]));
  return listed.flatMap((plan) => {
    let spread: { parts: Part[]; cost: number }[] = [{ parts: [], cost: 0 }];
    for (const { link, step } of plan)
      spread = spread.flatMap(({ parts, cost }) =>
        options
          .get(link)!
          .filter((one) => one.step === step && cost + one.cost <= most)
          .map((one) => ({ parts: [...parts, { link, step, parcel: one.parcel }], cost: cost + one.cost })),
      );
    return spread.map(({ parts }) => parts);
  });
}
