import type { FromStock } from '../model/result.ts';
import { isActive } from '../sourcing/problem/problem.ts';
import type { Mix } from './purchases.ts';

/** What a mix takes off the shelf, by requirement. */
export function fromStockOf({ job, problem, plan, sourced }: Mix): FromStock[] {
  const items = new Map(job.stock.map((item) => [item.code, item]));
  return problem.choices
    .flatMap((choice, at) => {
      const units = plan.units[at] ?? 0;
      const item = items.get(choice.offer);
      if (problem.suppliers[choice.supplier]?.own !== true || units === 0 || !item) return [];
      const served = choice.serves.map(({ demand }) => demand);
      const met = served.filter((index) => {
        const demand = problem.demands[index];
        return demand && isActive(demand, plan.options) && !plan.unmet.includes(index);
      });
      const [demand = 0] = met.length > 0 ? met : served;
      return [{ demand, item, units }];
    })
    .sort((a, b) => a.demand - b.demand)
    .flatMap(({ demand, item, units }): FromStock[] => {
      const { requirement, parts } = sourced[demand] ?? {};
      if (!requirement || !parts) return [];
      return [
        {
          requirement: requirement.id,
          label: requirement.label,
          stock: item.code,
          part: item.part,
          ...(parts.get(item.part) && requirement.kind !== 'wire' ? { insteadOf: requirement.part } : {}),
          count: units,
          ...(item.form === 'length' ? { lengthMm: item.lengthMm } : {}),
        },
      ];
    });
}
