import { offerParts } from '../model/offer.ts';
import type { Leftover, Requirement } from '../model/result.ts';
import { isActive, type Plan, type Pool, type Problem } from '../sourcing/problem/problem.ts';
import { eachFor } from '../sourcing/problem/units.ts';
import { minorToAmount, toMinor, type Exact } from '../units/money.ts';
import type { Bought, Mix } from './purchases.ts';

/** What is bought over the requirements, with what it cost: by requirement, then parts that only came in kits. */
export function leftoversOf(
  mix: Mix,
  bought: readonly Bought[],
  requirements: readonly Requirement[],
): Leftover[] {
  const { job, problem, plan } = mix;
  const { currency } = job.club;
  const money = (exact: Exact) => ({
    amount: minorToAmount(toMinor(exact, problem.scale), currency),
    currency,
  });
  const exactOf = costs(problem, plan, bought);
  const labels = new Map(requirements.map(({ id, label }) => [id, label]));
  const standInsOf = (requirement: string) =>
    bought
      .flatMap(({ purchase, standIn }) =>
        standIn && purchase.requirement === requirement ? [purchase.part] : [],
      )
      .join(', ');
  const over = toolsOnce(mix).flatMap((pool) => leftOf(problem, plan, pool, exactOf));
  // Where one of several families serves, each has a pool; the list goes by requirement all the same.
  const ofRequirements = over
    .sort((a, b) => a.requirement - b.requirement)
    .map(({ requirement, amount, value }): Leftover => {
      const id = problem.requirements[requirement]?.id ?? '';
      const surplus = isByLength(problem, requirement) ? { mm: amount } : { quantity: amount };
      const as = standInsOf(id);
      return {
        requirement: id,
        label: `${labels.get(id) ?? id}${as === '' ? '' : ` (as ${as})`}`,
        surplus: { ...surplus, value: money(value) },
      };
    });
  return [...ofRequirements, ...fromKits(mix, bought, money)];
}

/**
 * The pools, with each tool in one of them: one piece serves every family that it works, so that it is no surplus of one
 * beside another. Families that are bought come first.
 */
function toolsOnce({ job, problem, plan, sourced }: Mix): Pool[] {
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const isTool = ({ requirements: [only = 0] }: Pool) => sourced[only]?.follows !== undefined;
  const isBought = ({ requirements: [only = 0] }: Pool) => {
    const requirement = problem.requirements[only];
    return requirement !== undefined && isActive(requirement, plan.options) && !plan.unmet.includes(only);
  };
  const claimed = new Set<string>();
  const once = (pool: Pool): Pool => {
    const [only = 0] = pool.requirements;
    const gives = pool.gives.flatMap((give) => {
      const offer = offers.get(problem.choices[give.choice]?.offer ?? '');
      const tools = (offer ? offerParts(offer) : []).filter(({ part }) => sourced[only]?.parts.has(part));
      return tools.some(({ part }) => claimed.has(part)) ? [] : [give];
    });
    for (const part of sourced[only]?.parts.keys() ?? []) claimed.add(part);
    return { ...pool, gives };
  };
  const tools = problem.pools.filter(isTool);
  return [
    ...problem.pools.filter((pool) => !isTool(pool)),
    ...[...tools.filter(isBought), ...tools.filter((pool) => !isBought(pool))].map(once),
  ];
}

/** By choice: what was paid for its goods. */
function costs(problem: Problem, plan: Plan, bought: readonly Bought[]): (choice: number) => Exact {
  const lines = new Map(bought.map(({ offer, supplier, exact }) => [`${supplier} ${offer.code}`, exact]));
  return (at) => {
    const choice = problem.choices[at];
    return choice && (plan.units[at] ?? 0) > 0 ? (lines.get(`${choice.supplier} ${choice.offer}`) ?? 0n) : 0n;
  };
}

interface Over {
  requirement: number;
  amount: number;
  value: Exact;
}

/** What of a pool's goods is left: of the requirements that share it, first of those of which more is bought than they need. */
function leftOf(problem: Problem, plan: Plan, pool: Pool, exactOf: (choice: number) => Exact): Over[] {
  const isOwn = (at: number) => problem.suppliers[problem.choices[at]?.supplier ?? 0]?.own === true;
  const sum = (list: Pool['gives']) =>
    list.reduce((total, { choice, each }) => total + each * (plan.units[choice] ?? 0), 0);
  const paid = pool.gives.filter(({ choice }) => !isOwn(choice));
  const has = sum(paid);
  const shelf = sum(pool.gives.filter(({ choice }) => isOwn(choice)));
  const requirementOf = (requirement: number) => {
    const own = problem.requirements[requirement];
    return own && isActive(own, plan.options) && !plan.unmet.includes(requirement) ? own.need : 0;
  };
  const need = pool.requirements.reduce((total, requirement) => total + requirementOf(requirement), 0);
  const [only = 0] = pool.requirements;
  const offcuts = problem.requirements[only]?.how === 'cut' ? offShelf(problem, plan, only, isOwn) : 0;
  // What stays over of a length off the shelf goes back there.
  const over = Math.min(has, has + shelf - offcuts - need);
  if (over <= 0) return [];
  const cost = paid.reduce((total, { choice, each }) => total + shareFor(problem, choice, each, exactOf), 0n);
  const value = (amount: number) => (cost * BigInt(amount)) / BigInt(has);
  let left = over;
  const lines = pool.requirements.flatMap((requirement, index): Over[] => {
    const own = pool.requirements.length === 1 ? has : ownOf(problem, plan, requirement);
    const isLast = index === pool.requirements.length - 1;
    const amount = isLast ? left : Math.max(0, Math.min(left, own - requirementOf(requirement)));
    left -= amount;
    return amount > 0 ? [{ requirement, amount, value: value(amount) }] : [];
  });
  return lines;
}

/** Millimetres that stay over of the lengths off the shelf that are cut. */
function offShelf(
  problem: Problem,
  plan: Plan,
  requirement: number,
  isOwn: (choice: number) => boolean,
): number {
  const used = (problem.requirements[requirement]?.choices ?? []).reduce((total, at) => {
    const choice = problem.choices[at];
    return choice && isOwn(at) ? total + eachFor(choice, requirement) * (plan.units[at] ?? 0) : total;
  }, 0);
  const cut = (plan.cuts[requirement] ?? [])
    .filter(({ choice }) => isOwn(choice))
    .reduce(
      (total, { lengths, pieces }) =>
        total + lengths * pieces.reduce((mm, piece) => mm + piece.mm * piece.count, 0),
      0,
    );
  return used - cut;
}

function ownOf({ choices, requirements }: Problem, { units }: Plan, requirement: number): number {
  return (requirements[requirement]?.choices ?? []).reduce((total, at) => {
    const choice = choices[at];
    return choice ? total + eachFor(choice, requirement) * (units[at] ?? 0) : total;
  }, 0);
}

function isByLength({ requirements, choices }: Problem, requirement: number): boolean {
  return (requirements[requirement]?.choices ?? []).some((at) =>
    ['metre', 'length'].includes(choices[at]?.form ?? ''),
  );
}

/** What was paid for a choice; of a kit the share of these pieces in it. */
function shareFor(problem: Problem, at: number, each: number, exactOf: (choice: number) => Exact): Exact {
  const choice = problem.choices[at];
  const exact = exactOf(at);
  return choice?.form === 'kit' ? (exact * BigInt(each)) / BigInt(choice.piecesPerUnit) : exact;
}

/** Parts in kits that serve no requirement: those that do are in its pool. */
function fromKits(
  { job, problem, sourced }: Mix,
  bought: readonly Bought[],
  money: (exact: Exact) => Leftover['surplus']['value'],
): Leftover[] {
  const descriptions = new Map(job.parts.map(({ code, description }) => [code, description]));
  const over = new Map<string, { quantity: number; exact: Exact }>();
  for (const { purchase, exact, offer, supplier } of bought) {
    const { bought: amount } = purchase;
    if (amount.form !== 'kit') continue;
    const kit = problem.choices.find((choice) => choice.supplier === supplier && choice.offer === offer.code);
    const serves = (part: string) =>
      (kit?.serves ?? []).some(({ requirement }) => sourced[requirement]?.parts.has(part));
    const pieces = amount.contents.reduce((sum, { quantity }) => sum + quantity, 0);
    for (const { part, quantity } of amount.contents) {
      if (serves(part)) continue;
      const sum = over.get(part) ?? { quantity: 0, exact: 0n };
      sum.quantity += quantity * amount.packs;
      sum.exact += (exact * BigInt(quantity)) / BigInt(pieces);
      over.set(part, sum);
    }
  }
  return [...over].map(([part, { quantity, exact }]) => ({
    requirement: `part:${part}`,
    label: descriptions.get(part) ?? part,
    surplus: { quantity, value: money(exact) },
  }));
}
