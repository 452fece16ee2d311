import type { Control } from '../../model/control.ts';
import { solveMilp, type MilpAnswer } from '../../solver/milp.ts';
import type { LpColumn } from '../../solver/warmLp.ts';
import { modelOf } from './columnModel.ts';
import type { Network } from './network.ts';
import { NONE, type Priced, type Rows } from './rows.ts';
import type { Ground, Part } from './prices.ts';
import { undominatedPlans } from './undominatedPlans.ts';

/** How the whole-number model of plans ended: a plan for each requirement that is asked for, and options. */
export type Leaf =
  | {
      status: 'solved' | 'found';
      plans: (Part[] | undefined)[];
      options: number[];
      bound: number;
      cost: number;
    }
  | { status: 'none' }
  | { status: 'stopped'; by: 'time' | 'numbers' };

/**
 * The master model in whole numbers, out of these plans: the best mix of less than the limit. Goods may be made up to
 * lower limits by money, so that what it costs is a bound on mixes of these plans.
 */
export async function solvePlans(
  network: Network,
  rows: Rows,
  plans: readonly (readonly Part[][])[],
  { open, must }: Ground,
  limit: number,
  control: Control,
  mostNodes?: number,
): Promise<Leaf> {
  const columns: (LpColumn & { whole: boolean })[] = [];
  const add = ({ cost, entries }: Priced, upper: number, whole: boolean, lower = 0) => {
    columns.push({ cost, entries, lower, upper, whole });
    return columns.length - 1;
  };
  network.parcels.list.forEach((_, k) => {
    if (open[k] === 0) return;
    add(rows.parcel(k), 1, true);
    const padding = rows.padding(k);
    if (padding) add(padding, network.parcels.list[k]!.lower, false);
  });
  const options = network.groups
    .flat()
    .map((option) => ({ option, column: add(rows.option(option), 1, true) }));
  network.requirements.forEach((_, at) => {
    for (const column of [rows.askedFor(at), rows.leftUnmet(at)]) if (column) add(column, 1, true);
  });
  for (const column of [...rows.supplierUsed(), ...rows.leftOut()]) add(column, 1, true);
  network.shared.forEach(({ supplier, amounts }, at) => {
    const own = network.parcels.of[supplier] ?? [];
    for (const k of own.length > 0 ? own.filter((each) => open[each] === 1) : [NONE])
      amounts.forEach((__, place) => add(rows.amount(at, place, k), 1, true));
  });
  const own = plans.map((list, requirement) =>
    undominatedPlans(network, list).map((parts) => ({
      parts,
      column: add(rows.plan(requirement, parts), 1, true),
    })),
  );
  const limits = rows.limits.map((each) => ({ ...each }));
  must.forEach((is, supplier) => {
    const row = rows.oneOf(supplier);
    if (is === 1 && row !== NONE) limits[row] = { lower: 1, upper: 1 };
  });
  const answer: MilpAnswer = await solveMilp(
    modelOf(limits, columns, limit),
    control,
    mostNodes === undefined ? {} : { mostNodes },
  );
  if (answer.status === 'infeasible') return { status: 'none' };
  if (!answer.values)
    return { status: 'stopped', by: answer.status === 'interrupted' ? answer.stoppedBy : 'numbers' };
  const { values } = answer;
  return {
    status: answer.status === 'optimal' ? 'solved' : 'found',
    plans: own.map((list) => list.find(({ column }) => values[column]! > 0.5)?.parts),
    options: options.flatMap(({ option, column }) => (values[column]! > 0.5 ? [option] : [])),
    bound: answer.bound,
    cost: answer.objective ?? answer.bound,
  };
}
