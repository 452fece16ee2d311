import { byCode } from '../model/code.ts';
import type { FromStock, Requirement } from '../model/result.ts';
import type { Bought, Mix } from './purchases.ts';

/**
 * The requirements with the parts that are bought or taken off the shelf for them, where any of these stands in for what the
 * looms name.
 */
export function asBoughtFor(
  requirements: readonly Requirement[],
  { job }: Mix,
  bought: readonly Bought[],
  fromStock: readonly FromStock[],
): Requirement[] {
  const labels = new Map(job.parts.map(({ code, description }) => [code, description]));
  const serving = new Map<string, Set<string>>();
  const add = (requirement: string, part: string) =>
    serving.set(requirement, (serving.get(requirement) ?? new Set()).add(part));
  for (const { purchase, standIns } of bought) {
    add(purchase.requirement, purchase.part);
    for (const { part, requirement } of standIns) add(requirement, part);
  }
  for (const { requirement, part } of fromStock) add(requirement, part);
  return requirements.map((requirement) => {
    const parts = [...(serving.get(requirement.id) ?? [])].sort(byCode);
    if (parts.every((part) => requirement.servedBy.includes(part))) return requirement;
    return { ...requirement, boughtAs: parts.map((part) => ({ part, label: labels.get(part) ?? part })) };
  });
}
