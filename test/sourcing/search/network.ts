import { bestMix } from '../../../worker/engine/sourcing/model/mix.ts';
import { NOTHING_LEFT } from '../../../worker/engine/sourcing/model/aims.ts';
import { startingKnowledge } from '../../../worker/engine/sourcing/model/counted.ts';
import { costOf, sharesOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { networkOf } from '../../../worker/engine/sourcing/search/compile.ts';
import { cutPlansByRequirement } from '../../../worker/engine/sourcing/search/plansToCut.ts';
import { noMultipliers, type Multipliers } from '../../../worker/engine/sourcing/search/multipliers.ts';
import type { Network } from '../../../worker/engine/sourcing/search/network.ts';
import { MICROGRAMS } from '../../../worker/engine/sourcing/search/parcels.ts';
import type { Ground } from '../../../worker/engine/sourcing/search/prices.ts';
import { exactToSolver } from '../../../worker/engine/units/money.ts';
import { unhurried } from '../../engine/fixtures.ts';
import type { Random } from '../random.ts';

/** A problem as the search takes it; undefined where it is none of these. */
export async function networkFor(problem: Problem): Promise<Network | undefined> {
  return networkOf(problem, await cutPlansByRequirement(problem, unhurried));
}

/** The cheapest plan by the model given straight to the solver, with its cost in minor units; undefined where there is none. */
export async function cheapestOf(problem: Problem): Promise<{ plan: Plan; minor: number } | undefined> {
  if (problem.choices.length === 0) return undefined;
  const knowledge = await startingKnowledge(problem, unhurried);
  const mix = await bestMix(problem, { least: 'cost', left: NOTHING_LEFT }, knowledge, unhurried);
  if (mix.status !== 'optimal') return undefined;
  return { plan: mix.plan, minor: exactToSolver(costOf(problem, mix.plan), problem.scale) };
}

/** All parcels may be sent, and none must. */
export function allOpen({ parcels, codes }: Network): Ground {
  return { open: new Uint8Array(parcels.list.length).fill(1), must: new Uint8Array(codes.length) };
}

/** Multipliers of any size about so much a requirement, minor units, of either sign where that is allowed; many are 0. */
export function anyMultipliers(network: Network, random: Random, about: number): Multipliers {
  const size = random.pick([0.01, 0.1, 0.5, 2]);
  const filled = random.pick([10, 50, 100]);
  const some = (most: number) => (random.percent(filled) ? (most * size * random.whole(0, 1000)) / 1000 : 0);
  const somes = (list: Float64Array, most = about) => list.map(() => some(most));
  const none = noMultipliers(network);
  const parcels = network.parcels.list;
  return {
    ...none,
    link: none.link.map((own) => somes(own)),
    capacity: none.capacity.map((own) => somes(own, about / 3)),
    asked: none.asked.map((own) => somes(own)),
    stock: somes(none.stock),
    credit: Float64Array.from(parcels, ({ rate, heldByValue }) =>
      heldByValue && random.percent(50) ? -some(rate) : Math.min(rate, some(rate)),
    ),
    weight: Float64Array.from(parcels, ({ heldByWeight, gramsBelow }) =>
      heldByWeight ? some(about / gramsBelow) : 0,
    ),
  };
}

/** The parcel that a plan has a supplier send. */
function sentIn({ parcels }: Network, supplier: number, goods: number, grams: number): number {
  const fits = parcels.of[supplier]!.filter((k) => {
    const { lower, below, gramsBelow } = parcels.list[k]!;
    return lower <= goods && goods < below && grams < gramsBelow;
  });
  // Bands by weight begin where the lighter one ends.
  return fits.reduce((best, k) => (parcels.list[k]!.gramsBelow < parcels.list[best]!.gramsBelow ? k : best));
}

/** The ground in which only what a plan has sent may be, and must. */
export function groundOf(problem: Problem, network: Network, plan: Plan): Ground {
  const open = new Uint8Array(network.parcels.list.length);
  const must = new Uint8Array(network.codes.length);
  for (const { supplier, goods, micrograms } of sharesOf(problem, plan)) {
    if (problem.suppliers[supplier]!.own) continue;
    open[sentIn(network, supplier, exactToSolver(goods), micrograms / MICROGRAMS)] = 1;
    must[supplier] = 1;
  }
  return { open, must };
}
