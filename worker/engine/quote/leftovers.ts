import type { Job } from '../model/job.ts';
import type { Leftover, Requirement } from '../model/result.ts';
import { boughtFor } from '../sourcing/pricing.ts';
import type { Demand, Plan, Problem } from '../sourcing/problem.ts';
import { eachFor } from '../sourcing/units.ts';
import { minorToAmount, toMinor, type Exact } from '../units/money.ts';
import type { Bought } from './purchases.ts';

/** What is bought over the needs, with what it cost: by requirement, then parts that only came in kits. */
export function leftoversOf(
  job: Job,
  problem: Problem,
  plan: Plan,
  bought: readonly Bought[],
  requirements: readonly Requirement[],
): Leftover[] {
  const { currency } = job.club;
  const money = (exact: Exact) => ({ amount: minorToAmount(toMinor(exact), currency), currency });
  const exactOf = new Map(bought.map(({ offer, exact }) => [offer.code, exact]));
  const labels = new Map(requirements.map(({ id, label }) => [id, label]));
  const ofNeeds = problem.demands.flatMap((demand, index): Leftover[] => {
    const has = boughtFor(problem, plan, index, demand);
    const over = has - (plan.unmet.includes(index) ? 0 : demand.need);
    if (over <= 0) return [];
    const value = (costFor(problem, plan, demand, index, exactOf) * BigInt(over)) / BigInt(has);
    const amount = byLength(problem, demand) ? { mm: over } : { quantity: over };
    return [
      {
        requirement: demand.requirement,
        label: labels.get(demand.requirement) ?? demand.requirement,
        surplus: { ...amount, value: money(value) },
      },
    ];
  });
  return [
    ...ofNeeds,
    ...fromKits(job, bought, new Set(problem.demands.map(({ requirement }) => requirement)), money),
  ];
}

function byLength(problem: Problem, demand: Demand): boolean {
  return demand.choices.some((at) => ['metre', 'length'].includes(problem.choices[at]?.form ?? ''));
}

/** What was paid for a demand: its lines, and of each kit the share of its pieces. */
function costFor(
  problem: Problem,
  plan: Plan,
  demand: Demand,
  index: number,
  exactOf: ReadonlyMap<string, Exact>,
): Exact {
  return demand.choices.reduce((sum, at) => {
    const choice = problem.choices[at];
    if (!choice || (plan.units[at] ?? 0) === 0) return sum;
    const exact = exactOf.get(choice.offer) ?? 0n;
    if (choice.form !== 'kit') return sum + exact;
    return sum + (exact * BigInt(eachFor(choice, index))) / BigInt(choice.piecesPerUnit);
  }, 0n);
}

/** Parts in kits that no need of the problem asks for. */
function fromKits(
  job: Job,
  bought: readonly Bought[],
  needed: ReadonlySet<string>,
  money: (exact: Exact) => Leftover['surplus']['value'],
): Leftover[] {
  const descriptions = new Map(job.parts.map(({ code, description }) => [code, description]));
  const over = new Map<string, { quantity: number; exact: Exact }>();
  for (const { purchase, exact } of bought) {
    const { bought: amount } = purchase;
    if (amount.form !== 'kit') continue;
    const pieces = amount.contents.reduce((sum, { quantity }) => sum + quantity, 0);
    for (const { part, quantity } of amount.contents) {
      if (needed.has(`part:${part}`)) continue;
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
