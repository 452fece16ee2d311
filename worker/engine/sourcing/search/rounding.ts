import type { Assignment, Parts } from './assignment.ts';
import { descend } from './descent.ts';
import type { PlanColumn, Relaxed } from './master.ts';
import type { Network } from './network.ts';
import type { Ground, Part } from './prices.ts';

/**
 * A mix near what the relaxation uses: of each requirement the plan that it uses most, of each group the option; then by
 * descent. Undefined where for some requirement no plan is known.
 */
export function rounded(
  network: Network,
  columns: readonly PlanColumn[],
  { used }: Relaxed,
  { open }: Ground,
): { assignment: Assignment; options: number[] } | undefined {
  const { requirements, groups, links, parcels } = network;
  const share = new Map<number, number>();
  const best: (PlanColumn | undefined)[] = requirements.map(() => undefined);
  const most = new Float64Array(requirements.length);
  for (const { plan, share: own } of used) {
    if (own > most[plan.requirement]!) {
      most[plan.requirement] = own;
      best[plan.requirement] = plan;
    }
    for (const option of requirements[plan.requirement]!.when ?? [])
      share.set(option, Math.max(share.get(option) ?? 0, own));
  }
  const options = groups.map((group) =>
    group.reduce((chosen, option) => ((share.get(option) ?? 0) > (share.get(chosen) ?? 0) ? option : chosen)),
  );
  const isAsked = (when: readonly number[] | undefined) =>
    when === undefined || when.some((option) => options.includes(option));
  const plans = known(
    network,
    columns,
    (part) => part.parcel < 0 || parcels.of[links[part.link]!.supplier]!.some((k) => open[k] === 1),
  );
  const from = requirements.map(({ when }, at): Parts | undefined => {
    if (!isAsked(when)) return undefined;
    const chosen = best[at];
    if (!chosen) return plans[at]![0];
    return plans[at]!.find((plan) => keyOf(plan) === keyOf(chosen.parts)) ?? plans[at]![0];
  });
  if (requirements.some(({ when }, at) => isAsked(when) && !from[at])) return undefined;
  const assignment = descend({ network, plans }, from);
  return assignment && { assignment, options };
}

/** The plans that are known, by requirement, each once whatever its parcels. */
function known(
  { requirements, ready }: Network,
  columns: readonly PlanColumn[],
  isOpen: (part: Part) => boolean,
): Parts[][] {
  const lists: Map<string, Parts>[] = requirements.map(() => new Map<string, Parts>());
  for (const { requirement, parts } of columns)
    if (parts.every(isOpen)) lists[requirement]!.set(keyOf(parts), parts);
  return lists.map((list, at) => (requirements[at]!.isLoose ? [...ready[at]!] : [...list.values()]));
}

function keyOf(parts: Parts): string {
  return parts.map(({ link, step }) => `${link}.${step}`).join(' ');
}
