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
      const served = choice.serves.map(({ requirement }) => requirement);
      const met = served.filter((index) => {
        const requirement = problem.requirements[index];
        return requirement && isActive(requirement, plan.options) && !plan.unmet.includes(index);
      });
      const [requirement = 0] = met.length > 0 ? met : served;
      return [{ requirement, item, units }];
    })
    .sort((a, b) => a.requirement - b.requirement)
    .flatMap(({ requirement, item, units }): FromStock[] => {
      const { rolledUp, parts } = sourced[requirement] ?? {};
      if (!rolledUp || !parts) return [];
      return [
        {
          requirement: rolledUp.id,
          label: rolledUp.label,
          stock: item.code,
          part: item.part,
          ...(parts.get(item.part) && rolledUp.kind !== 'wire' ? { insteadOf: rolledUp.part } : {}),
          count: units,
          ...(item.form === 'length' ? { lengthMm: item.lengthMm } : {}),
          ...(item.owner === undefined ? {} : { owner: item.owner }),
          ...(item.place === undefined ? {} : { place: item.place }),
        },
      ];
    });
}
