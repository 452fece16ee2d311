import { limitsOf } from '../problem/limits.ts';
import type { Problem } from '../problem/problem.ts';
import { sharedCost, suppliersAt, worthOf } from './bound.ts';
import type { Network, NetworkRequirement, Step } from './network.ts';
import type { Worked } from './node.ts';
import { linkPrices, PlanTable, stockCost } from './prices.ts';
import { alternatives, amountsOf, looseAmountsOf, offeredOf, stairOf } from './stairs.ts';

/**
 * What a mix costs at the least that buys so much of a choice of which all prices fall by a share f, minor units:
 * fixed + (1 − f) · falling. Of several such lines the lowest holds.
 */
export interface FallLine {
  fixed: number;
  falling: number;
}

/** So much of a choice, and what is bought beside it of the same supplier whatever it costs. */
interface Amount {
  step: Step;
  beside: number;
}

/** Choices that are bought by force, at falling prices. What they come in is worked out once. */
export class Fallen {
  readonly #problem: Problem;
  readonly #network: Network;
  /** By choice: its link, and all amounts of it. */
  readonly #amounts = new Map<number, { link: number; amounts: readonly Amount[] }>();

  constructor(problem: Problem, network: Network) {
    this.#problem = problem;
    this.#network = network;
    for (const { links } of network.requirements)
      for (const link of links) {
        const { supplier, shared, choices } = network.links[link]!;
        if (shared !== undefined || network.parcels.of[supplier]!.length === 0) continue;
        for (const choice of choices) {
          const amounts = amountsIn(problem, network, link, choice);
          if (amounts) this.#amounts.set(choice, { link, amounts });
        }
      }
  }

  /**
   * By choice, what mixes of a part of the search cost at the least that buy some of it at falling prices: the Lagrangian
   * bound of `boundAt` at the fallen prices and the same multipliers, which any prices allow, with the choice in its
   * requirement's plan and its supplier's parcel sent. No lines: no such mix. Undefined: nothing is known.
   *
   *   value − least_r + Σ-suppliers with parcel k − Σ-suppliers + rest_r + link + stock + weight
   *     + (rate_k − credit_k) · (beside + (1 − f) · goods)
   *
   * Units beyond the need, bought to reach a lower limit, are in it: money makes up as much at no more.
   */
  within(part: Worked, isAsked: (supplier: number) => boolean): (FallLine[] | undefined)[] {
    const network = this.#network;
    const lines: (FallLine[] | undefined)[] = this.#problem.choices.map(() => undefined);
    const sending = sendingCosts(network, part, isAsked);
    const covers = new Map<number, PlanTable>();
    const besides = new Map<number, Beside[]>();
    for (const [choice, { link, amounts }] of this.#amounts) {
      if (!isAsked(network.links[link]!.supplier)) continue;
      const { requirement } = network.links[link]!;
      if (network.requirements[requirement]!.listed) {
        const plans = besides.get(link) ?? besidesOf(network, part, link);
        besides.set(link, plans);
        lines[choice] = this.#inListed(part, link, amounts, { plans, sending });
        continue;
      }
      const cover = covers.get(requirement) ?? coverOf(network, part, network.requirements[requirement]!);
      covers.set(requirement, cover);
      lines[choice] = this.#inPlans(part, link, amounts, { cover, sending });
    }
    network.shared.forEach(({ choice, supplier }, at) => {
      if (isAsked(supplier) && network.parcels.of[supplier]!.length > 0)
        lines[choice] = sharedLines(network, part, at, sending);
    });
    return lines;
  }

  /**
   * The same where plans are written out: a mix that buys so much of the choice costs as much as one of these at every other
   * supplier, and at the choice's as much as what is more, that plan's goods or the choice's.
   */
  #inListed(
    { multipliers, at: { value, tables } }: Worked,
    link: number,
    amounts: readonly Amount[],
    { plans, sending }: { plans: readonly Beside[]; sending: Float64Array },
  ): FallLine[] {
    const { parcels, links, requirements } = this.#network;
    const { requirement: at, supplier } = links[link]!;
    const lines: FallLine[] = [];
    parcels.of[supplier]!.forEach((k, place) => {
      if (sending[k] === Infinity) return;
      const slope = Math.max(0, parcels.list[k]!.rate - multipliers.credit[k]!);
      for (const { step } of amounts)
        for (const plan of plans) {
          const beside = slope * Math.max(0, plan.value - step.value);
          const own = beside + multipliers.weight[k]! * Math.max(plan.grams, step.grams);
          const fixed = value - tables[at]!.least + sending[k]! + own + multipliers.link[link]![place]!;
          lines.push({ fixed: fixed + plan.rest, falling: slope * step.value });
        }
      if (requirements[at]!.when !== undefined) lines.push({ fixed: value + sending[k]!, falling: 0 });
    });
    return lowest(lines);
  }

  #inPlans(
    { multipliers, at: { value, tables } }: Worked,
    link: number,
    amounts: readonly Amount[],
    { cover, sending }: { cover: PlanTable; sending: Float64Array },
  ): FallLine[] {
    const { parcels, links, requirements, stock } = this.#network;
    const { requirement: at, supplier } = links[link]!;
    const { isSum, isLoose, when } = requirements[at]!;
    const { least } = tables[at]!;
    const lines: FallLine[] = [];
    parcels.of[supplier]!.forEach((k, place) => {
      if (sending[k] === Infinity) return;
      const slope = Math.max(0, parcels.list[k]!.rate - multipliers.credit[k]!);
      for (const { step, beside } of amounts) {
        const own = slope * beside + multipliers.weight[k]! * step.grams + multipliers.link[link]![place]!;
        const scarce = stock.length > 0 ? stockCost(this.#network, multipliers, step) : 0;
        const rest = isSum || isLoose ? cover.rest(0, cover.counted(step.gives)) : 0;
        lines.push({
          fixed: value - least + sending[k]! + own + scarce + rest,
          falling: slope * step.value,
        });
      }
      // Where its requirement is not asked for it may be there to reach a limit.
      if (when !== undefined) lines.push({ fixed: value + sending[k]!, falling: 0 });
    });
    return lowest(lines);
  }
}

/** Of a plan that is written out: what it is worth and weighs at a supplier, and what the rest of it costs. */
interface Beside {
  value: number;
  grams: number;
  rest: number;
}

function besidesOf(network: Network, { multipliers, ground }: Worked, link: number): Beside[] {
  const { links, listed = [] } = network.requirements[network.links[link]!.requirement]!;
  const prices = new Map(links.map((at) => [at, linkPrices(network, multipliers, ground, at)]));
  return listed.map((plan) => {
    const here = plan.find((one) => one.link === link);
    const { value, grams } = here ? network.links[link]!.steps[here.step]! : { value: 0, grams: 0 };
    const others = plan.filter((one) => one !== here);
    const rest = others.reduce((sum, one) => sum + (prices.get(one.link)?.costs[one.step] ?? Infinity), 0);
    return { value, grams, rest };
  });
}

/** Those that are the lowest somewhere between no fall and all of it, as far as two of them show it. */
export function lowest(lines: readonly FallLine[]): FallLine[] {
  const sorted = lines
    .filter(({ fixed }) => fixed < Infinity)
    .sort((a, b) => a.fixed - b.fixed || a.falling - b.falling);
  const kept: FallLine[] = [];
  let least = Infinity;
  for (const line of sorted) {
    if (line.fixed + line.falling >= least) continue;
    least = line.fixed + line.falling;
    kept.push(line);
  }
  return kept;
}

/** By parcel of the suppliers asked for: by how much sending just it raises the bound; Infinity where it cannot be sent. */
function sendingCosts(
  network: Network,
  { ground, multipliers, at: { parcel } }: Worked,
  isAsked: (supplier: number) => boolean,
): Float64Array {
  const { of, list } = network.parcels;
  const now = suppliersAt(network, multipliers, ground, parcel).sum;
  const costs = new Float64Array(list.length).fill(Infinity);
  of.forEach((own, supplier) => {
    if (!isAsked(supplier)) return;
    const must = ground.must.slice();
    must[supplier] = 1;
    for (const k of own) {
      if (ground.open[k] === 0) continue;
      const alone = parcel.slice();
      for (const other of own) if (other !== k) alone[other] = Infinity;
      costs[k] = suppliersAt(network, multipliers, { ...ground, must }, alone).sum - now;
    }
  });
  return costs;
}

/** What the rest of a requirement costs beside a choice: its supplier's link is paid for already. */
function coverOf(
  network: Network,
  { multipliers, ground }: Worked,
  requirement: NetworkRequirement,
): PlanTable {
  const link = multipliers.link.map((own) => new Float64Array(own.length));
  const prices = requirement.links.map((at) => linkPrices(network, { ...multipliers, link }, ground, at));
  return new PlanTable(network, requirement, prices);
}

function sharedLines(
  network: Network,
  { ground, multipliers, at: { value } }: Worked,
  at: number,
  sending: Float64Array,
): FallLine[] {
  const { supplier, amounts } = network.shared[at]!;
  const [least, most] = [ground.shared?.least[at] ?? 0, ground.shared?.most[at] ?? Infinity];
  const { each, once } = worthOf(network, multipliers, at);
  return lowest(
    network.parcels.of[supplier]!.flatMap((k) => {
      if (sending[k] === Infinity) return [];
      const slope = Math.max(0, network.parcels.list[k]!.rate - multipliers.credit[k]!);
      // The parcel's share of the bound may hold it already.
      const within = sharedCost(network, multipliers, ground, at, k);
      return amounts
        .filter(({ units }) => units >= least && units <= most)
        .map((amount) => ({
          fixed:
            value + sending[k]! - within + multipliers.weight[k]! * amount.grams - each * amount.units - once,
          falling: slope * amount.value,
        }));
    }),
  );
}

/** All amounts of one choice; undefined: nothing is known. */
function amountsIn(
  problem: Problem,
  network: Network,
  link: number,
  choice: number,
): readonly Amount[] | undefined {
  const { requirement: at, steps } = network.links[link]!;
  const { needs, unit, isLoose } = network.requirements[at]!;
  const requirement = problem.requirements[at]!;
  const offered = offeredOf(problem.choices, choice, at);
  const plain = (list: readonly Step[] | undefined) => list?.map((step) => ({ step, beside: 0 }));
  if (requirement.how === 'single')
    return plain(alternatives(offered, requirement.need, true, requirement.pieces));
  if (requirement.how === 'cut' && !isLoose) return cutAmounts(problem, at, steps, choice);
  const [one] = offered.map((each) => ({ ...each, each: each.each / unit }));
  return one && plain(amountsOf(one, needs.at(-1) ?? 0));
}

/**
 * Of what is cut and comes from one supplier: all costs no less than the cheapest that there is, and so much of the choice
 * leaves as much in length to the supplier's others, and the shelf, as is missing then.
 */
function cutAmounts(
  problem: Problem,
  index: number,
  steps: readonly Step[],
  choice: number,
): readonly Amount[] {
  const { need, choices } = problem.requirements[index]!;
  const { supplier } = problem.choices[choice]!;
  const least = Math.min(...steps.map(({ value }) => value));
  const [one] = offeredOf(problem.choices, choice, index);
  // Lengths may be needed beyond what they come to in all, as pieces are whole.
  const { alone } = limitsOf(
    problem.choices[choice]!,
    { requirements: problem.requirements, covers: [] },
    [],
  );
  const own = one && amountsOf(one, Math.max(need, alone * one.each));
  const others = choices
    .filter((at) => at !== choice && [supplier, shelfOf(problem)].includes(problem.choices[at]!.supplier))
    .flatMap((at) => offeredOf(problem.choices, at, index));
  const stair = stairOf(others, need, false, looseAmountsOf);
  if (!own || !stair) return steps.map((step) => ({ step, beside: 0 }));
  return own.map((step) => {
    const missing = need - step.gives;
    const beside = missing > 0 ? (stair.find(({ gives }) => gives >= missing)?.value ?? Infinity) : 0;
    return { step, beside: Math.max(beside, least - step.value, 0) };
  });
}

function shelfOf({ suppliers }: Problem): number {
  return suppliers.findIndex(({ own }) => own);
}
