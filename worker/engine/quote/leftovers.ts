import { offerParts } from '../model/offer.ts';
import type { Leftover, Requirement } from '../model/result.ts';
import { isActive, type Plan, type Pool, type Problem } from '../sourcing/problem/problem.ts';
import { eachFor } from '../sourcing/problem/units.ts';
import { minorToAmount, toMinor, type Exact } from '../units/money.ts';
import type { Bought, Mix } from './purchases.ts';

/** What is bought over the needs, with what it cost: by requirement, then parts that only came in kits. */
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
  const ofNeeds = over
    .sort((a, b) => a.demand - b.demand)
    .map(({ demand, amount, value }): Leftover => {
      const id = problem.demands[demand]?.requirement ?? '';
      const surplus = isByLength(problem, demand) ? { mm: amount } : { quantity: amount };
      const as = standInsOf(id);
      return {
        requirement: id,
        label: `${labels.get(id) ?? id}${as === '' ? '' : ` (as ${as})`}`,
        surplus: { ...surplus, value: money(value) },
      };
    });
  return [...ofNeeds, ...fromKits(mix, bought, money)];
}

/**
 * The pools, with each tool in one of them: one piece serves every family that it works, so that it is no surplus of one
 * beside another. Families that are bought come first.
 */
function toolsOnce({ job, problem, plan, sourced }: Mix): Pool[] {
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const isTool = ({ demands: [only = 0] }: Pool) => sourced[only]?.follows !== undefined;
  const isBought = ({ demands: [only = 0] }: Pool) => {
    const demand = problem.demands[only];
    return demand !== undefined && isActive(demand, plan.options) && !plan.unmet.includes(only);
  };
  const claimed = new Set<string>();
  const once = (pool: Pool): Pool => {
    const [only = 0] = pool.demands;
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
  demand: number;
  amount: number;
  value: Exact;
}

/** What of a pool's goods is left: of the demands that share it, first of those of which more is bought than they need. */
function leftOf(problem: Problem, plan: Plan, pool: Pool, exactOf: (choice: number) => Exact): Over[] {
  const isOwn = (at: number) => problem.suppliers[problem.choices[at]?.supplier ?? 0]?.own === true;
  const sum = (list: Pool['gives']) =>
    list.reduce((total, { choice, each }) => total + each * (plan.units[choice] ?? 0), 0);
  const paid = pool.gives.filter(({ choice }) => !isOwn(choice));
  const has = sum(paid);
  const shelf = sum(pool.gives.filter(({ choice }) => isOwn(choice)));
  const needOf = (demand: number) => {
    const own = problem.demands[demand];
    return own && isActive(own, plan.options) && !plan.unmet.includes(demand) ? own.need : 0;
  };
  const need = pool.demands.reduce((total, demand) => total + needOf(demand), 0);
  const [only = 0] = pool.demands;
  const offcuts = problem.demands[only]?.how === 'cut' ? offShelf(problem, plan, only, isOwn) : 0;
  // What stays over of a length off the shelf goes back there.
  const over = Math.min(has, has + shelf - offcuts - need);
  if (over <= 0) return [];
  const cost = paid.reduce((total, { choice, each }) => total + shareFor(problem, choice, each, exactOf), 0n);
  const value = (amount: number) => (cost * BigInt(amount)) / BigInt(has);
  let left = over;
  const lines = pool.demands.flatMap((demand, index): Over[] => {
    const own = pool.demands.length === 1 ? has : ownOf(problem, plan, demand);
    const isLast = index === pool.demands.length - 1;
    const amount = isLast ? left : Math.max(0, Math.min(left, own - needOf(demand)));
    left -= amount;
    return amount > 0 ? [{ demand, amount, value: value(amount) }] : [];
  });
  return lines;
}

/** Millimetres that stay over of the lengths off the shelf that are cut. */
function offShelf(problem: Problem, plan: Plan, demand: number, isOwn: (choice: number) => boolean): number {
  const used = (problem.demands[demand]?.choices ?? []).reduce((total, at) => {
    const choice = problem.choices[at];
    return choice && isOwn(at) ? total + eachFor(choice, demand) * (plan.units[at] ?? 0) : total;
  }, 0);
  const cut = (plan.cuts[demand] ?? [])
    .filter(({ choice }) => isOwn(choice))
    .reduce(
      (total, { lengths, pieces }) =>
        total + lengths * pieces.reduce((mm, piece) => mm + piece.mm * piece.count, 0),
      0,
    );
  return used - cut;
}

function ownOf({ choices, demands }: Problem, { units }: Plan, demand: number): number {
  return (demands[demand]?.choices ?? []).reduce((total, at) => {
    const choice = choices[at];
    return choice ? total + eachFor(choice, demand) * (units[at] ?? 0) : total;
  }, 0);
}

function isByLength({ demands, choices }: Problem, demand: number): boolean {
  return (demands[demand]?.choices ?? []).some((at) => ['metre', 'length'].includes(choices[at]?.form ?? ''));
}

/** What was paid for a choice; of a kit the share of these pieces in it. */
function shareFor(problem: Problem, at: number, each: number, exactOf: (choice: number) => Exact): Exact {
  const choice = problem.choices[at];
  const exact = exactOf(at);
  return choice?.form === 'kit' ? (exact * BigInt(each)) / BigInt(choice.piecesPerUnit) : exact;
}

/** Parts in kits that serve no need: those that do are in its pool. */
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
      (kit?.serves ?? []).some(({ demand }) => sourced[demand]?.parts.has(part));
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
