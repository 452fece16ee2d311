import { exactToSolver } from '../../units/money.ts';
import { isAllowed } from '../problem/allowed.ts';
import { isActive, type Cut, type Plan, type Problem } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';
import type { Bought } from './cutBlock.ts';
import { parcelFor, type Assignment } from './assignment.ts';
import { GOODS_MISSING } from '../../solver/tolerances.ts';

/**
 * The plan that an assignment stands for, orders made up to their limits by what is sold; undefined where that cannot be
 * ordered so, or is not enough.
 */
export function planOf(
  problem: Problem,
  assignment: Assignment,
  options: readonly number[],
  bought: readonly Bought[] = [],
): Plan | undefined {
  const { network } = assignment;
  const units = problem.choices.map(() => 0);
  const cuts: Cut[][] = problem.requirements.map(() => []);
  const unmet: number[] = [];
  for (const requirement of network.requirements.keys()) {
    const plan = assignment.plans[requirement];
    const beside = bought.find((one) => one.requirement === requirement);
    if (beside) {
      for (const line of beside.lines) units[line.choice]! += line.units;
      cuts[requirement]!.push(...beside.cuts);
      if (!beside.isMet && isActive(problem.requirements[requirement]!, options)) unmet.push(requirement);
      continue;
    }
    if (!plan) {
      if (isActive(problem.requirements[requirement]!, options)) unmet.push(requirement);
      continue;
    }
    for (const { link, step } of plan) {
      const chosen = network.links[link]!.steps[step]!;
      for (const line of chosen.lines) units[line.choice]! += line.units;
      cuts[requirement]!.push(...(chosen.cuts ?? []));
    }
  }
  for (const [at, { choice }] of network.shared.entries()) {
    const many = assignment.unitsOf(at);
    if (many === Infinity) return undefined;
    units[choice] = many;
  }
  // Nothing is bought that serves only what is not asked for.
  const isAsked = (requirement: number) =>
    isActive(problem.requirements[requirement]!, options) && !unmet.includes(requirement);
  network.parcels.of.forEach((own, supplier) => {
    if (own.length === 0 || !assignment.uses(supplier)) return;
    const { goods, grams } = assignment.load(supplier);
    const { parcel } = parcelFor(network, supplier, goods, grams);
    if (parcel && goods < parcel.lower) fillUp(problem, units, supplier, parcel.lower - goods, isAsked);
  });
  const plan: Plan = { units, cuts, unmet, without: [], options };
  return isAllowed(problem, plan) && isEnough(problem, plan) ? plan : undefined;
}

function isEnough({ covers, requirements }: Problem, { units, options, unmet }: Plan): boolean {
  return covers.every(({ members, gives }) => {
    const asked = members.filter(
      ({ requirement, when }) =>
        isActive(requirements[requirement]!, options) &&
        !unmet.includes(requirement) &&
        (when === undefined || options.includes(when)),
    );
    const need = asked.reduce((sum, member) => sum + member.need, 0);
    return gives.reduce((sum, { choice, each }) => sum + each * units[choice]!, 0) >= need;
  });
}

const MOST_LINES = 30;
const LEVELS = 12;

/** Buys more from a supplier until its goods have grown by so much: in the end by the line that does it for least. */
function fillUp(
  problem: Problem,
  units: number[],
  supplier: number,
  missing: number,
  isAsked: (requirement: number) => boolean,
): void {
  for (let round = 0; round < MOST_LINES && missing > GOODS_MISSING; round++) {
    const ways = waysOn(problem, units, supplier, isAsked);
    const enough = ways.filter(({ more }) => more >= missing - GOODS_MISSING);
    const [best] = (enough.length > 0 ? enough : ways).sort((a, b) =>
      enough.length > 0 ? a.more - b.more : b.more - a.more,
    );
    if (!best) return;
    units[best.choice] = best.units;
    missing -= best.more;
  }
}

function waysOn(
  { choices, requirements }: Problem,
  units: readonly number[],
  supplier: number,
  isAsked: (requirement: number) => boolean,
) {
  return choices.flatMap((choice, index) => {
    if (choice.supplier !== supplier || choice.tiers.length === 0) return [];
    if (!choice.serves.some(({ requirement }) => isAsked(requirement))) return [];
    const now = units[index]!;
    // Lengths that are cut are bought as they were worked out.
    if (choice.serves.some(({ requirement }) => requirements[requirement]?.how !== 'sum') && now === 0)
      return [];
    const first = choice.tiers[0]?.fromUnits ?? 1;
    const found: { choice: number; units: number; more: number }[] = [];
    let next = now === 0 ? first : now + choice.step;
    for (let level = 0; level < LEVELS; level++, next += choice.step) {
      if (choice.mostUnits !== undefined && next > choice.mostUnits) break;
      const more = exactToSolver(lineCost(choice, next) - lineCost(choice, now));
      if (more > 0) found.push({ choice: index, units: next, more });
    }
    return found;
  });
}
