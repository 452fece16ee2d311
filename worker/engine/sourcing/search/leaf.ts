import { GOODS_MISSING } from '../../solver/tolerances.ts';
import type { Control } from '../../model/control.ts';
import { solveMilp, type MilpAnswer } from '../../solver/milp.ts';
import { judgedOf, type Knowledge } from '../model/counted.ts';
import { EFFORTS } from '../model/shutOut.ts';
import type { Problem } from '../problem/problem.ts';
import { addCutBlock, type Bought } from './cutBlock.ts';
import type { Completed } from './complete.ts';
import { LeafModel } from './leafModel.ts';
import type { Network } from './network.ts';
import { NONE, type Rows } from './rows.ts';
import type { Ground, Part } from './prices.ts';
import { addSingleBlock } from './singleBlock.ts';
import { addSumBlock } from './sumBlock.ts';
import { mostUnits } from './unitColumns.ts';

/** How the whole-number model of plans ended: a plan for each requirement that is asked for and not loose, what is bought for those that are, and options. */
export type Leaf =
  | {
      status: 'solved' | 'found';
      plans: (Part[] | undefined)[];
      bought: Bought[];
      /** Units of each shared choice. */
      shared: number[];
      options: number[];
      /** Suppliers whose goods are made up to a lower limit by money. */
      padded: number[];
      bound: number;
      cost: number;
    }
  | { status: 'none' }
  | { status: 'stopped'; by: 'time' | 'numbers' };

/** What a leaf is made of. */
export interface LeafOf {
  problem: Problem;
  network: Network;
  rows: Rows;
  /** By requirement; none of one that is loose. */
  plans: Completed;
  ground: Ground;
  /** Choices that what is bought by units may be met from. */
  keep: (choice: number) => boolean;
  /** Of what is cut by counts and bought by units. */
  knowledge: Knowledge;
  limit: number;
  /**
   * Suppliers whose goods are made up to lower limits by what they sell, not by money: what they have a hand in is bought by
   * units then, since plans leave out what money does as well.
   */
  real: ReadonlySet<number>;
}

/**
 * The master model (rows as in rows.ts) in whole numbers, out of these plans: the best mix of less than the limit. Goods may be made up to
 * lower limits by money, so that what it costs is a bound on mixes of these plans.
 */
export async function solvePlans(
  { problem, network, rows, plans, ground, keep, knowledge, limit, real }: LeafOf,
  control: Control,
  mostNodes?: number,
): Promise<Leaf> {
  const model = new LeafModel(rows.limits);
  ground.must.forEach((is, supplier) => {
    const row = rows.oneOf(supplier);
    if (is === 1 && row !== NONE) model.limit(row, 1, 1);
  });
  const paddings: { supplier: number; column: number }[] = [];
  network.parcels.list.forEach((_, k) => {
    if (ground.open[k] === 0) return;
    model.addParcel(k, rows.parcel(k));
    const padding = rows.padding(k);
    const { supplier, lower } = network.parcels.list[k]!;
    if (padding && !real.has(supplier)) paddings.push({ supplier, column: model.add(padding, lower, false) });
  });
  const options = network.groups
    .flat()
    .map((option) => ({ option, column: model.add(rows.option(option), 1, true) }));
  network.requirements.forEach((_, at) => {
    const askedFor = rows.askedFor(at);
    if (askedFor) model.add(askedFor, 1, true);
  });
  for (const column of rows.supplierUsed()) model.add(column, 1, true);
  const shared = network.shared.map(({ supplier, amounts }, at) => {
    const own = network.parcels.of[supplier] ?? [];
    const places = own.length > 0 ? own.filter((each) => ground.open[each] === 1) : [NONE];
    const most = ground.shared?.most[at] ?? Infinity;
    return places.flatMap((k) =>
      amounts.flatMap(({ units }, place) =>
        units > most ? [] : [{ units, column: model.add(rows.amount(at, place, k), 1, true) }],
      ),
    );
  });
  const leafing = { model, problem, network, rows, ground };
  const mostOf = mostUnits(problem, (supplier) => real.has(supplier));
  const byUnits = network.requirements.map((_, at) => isByUnits({ problem, network, plans, real }, at));
  const blocks = network.requirements.flatMap(({ isSum }, at) => {
    if (!byUnits[at]) return [];
    if (isSum) return [addSumBlock(leafing, at, keep, mostOf)];
    return problem.requirements[at]!.how === 'single'
      ? [addSingleBlock(leafing, at, keep, mostOf)]
      : [addCutBlock(leafing, at, keep, mostOf, knowledge.get(at))];
  });
  const own = plans.map((list, requirement) =>
    (list === 'units' || byUnits[requirement] ? [] : list).map((parts) => ({
      parts,
      column: model.add(rows.plan(requirement, parts), 1, true),
    })),
  );
  const answer: MilpAnswer = await solveMilp(
    model.build(limit),
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
    bought: blocks.map((read) => read(values)),
    shared: shared.map((amounts) =>
      amounts.reduce((sum, { units, column }) => sum + units * Math.round(values[column]!), 0),
    ),
    options: options.flatMap(({ option, column }) => (values[column]! > 0.5 ? [option] : [])),
    padded: paddings.flatMap(({ supplier, column }) => (values[column]! > GOODS_MISSING ? [supplier] : [])),
    bound: answer.bound,
    cost: answer.objective ?? answer.bound,
  };
}

/** Whether a requirement is bought by units: also where a real supplier has what serves it, be it in no plan that is written out. */
export function isByUnits(
  { problem, network, plans, real }: Pick<LeafOf, 'problem' | 'network' | 'plans' | 'real'>,
  requirement: number,
): boolean {
  const { choices, requirements } = problem;
  return (
    network.requirements[requirement]!.isLoose ||
    plans[requirement] === 'units' ||
    requirements[requirement]!.choices.some((at) => real.has(choices[at]!.supplier))
  );
}

/** Of what is cut by counts: whether all pieces come out of what is bought. */
export async function cutLeaf(
  { problem, knowledge }: LeafOf,
  leaf: Extract<Leaf, { plans: unknown }>,
  control: Control,
): Promise<Bought[] | 'refused' | 'unknown'> {
  const bought: Bought[] = [];
  let refused = false;
  for (const one of leaf.bought) {
    if (!knowledge.has(one.requirement) || !one.isMet) {
      bought.push(one);
      continue;
    }
    const units = problem.choices.map(() => 0);
    for (const line of one.lines) units[line.choice] = line.units;
    const plan = { units, cuts: [], unmet: [], without: [], options: [] };
    const verdict = await judgedOf(problem, plan, one.requirement, knowledge, control, EFFORTS[0] ?? 1);
    if (verdict === 'unknown') return 'unknown';
    if (verdict === 'refused') refused = true;
    else bought.push({ ...one, cuts: [...verdict] });
  }
  return refused ? 'refused' : bought;
}
