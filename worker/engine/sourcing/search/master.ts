import type { Control } from '../../model/control.ts';
import { WarmLp, type LpColumn } from '../../solver/warmLp.ts';
import { bestAmount, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import { NONE, Rows, type Priced } from './rows.ts';
import type { Ground, Part } from './prices.ts';
import { COLUMN_IN_USE, COLUMN_OF_USE, MET_OUT_OF_NOTHING } from '../../solver/tolerances.ts';

/** A plan of a requirement, as a column of the master model. */
export interface PlanColumn {
  requirement: number;
  parts: readonly Part[];
}

/** What the relaxed master model says: the parcels that it sends in part, and multipliers. */
export interface Relaxed {
  objective: number;
  /** Whether all requirements are met by plans. */
  isReal: boolean;
  /** By parcel, 0 to 1. */
  sent: Float64Array;
  /** The plans in use, each with how far. */
  used: { plan: PlanColumn; share: number }[];
  multipliers: Multipliers;
  /** By requirement: what a plan must cost less than to be of use. */
  asked: Float64Array;
  inParcel: (shared: number, parcel: number) => number;
}

/**
 * The master model with the plans that were found to be of use so far, its whole numbers relaxed: column generation (Barnhart
 * et al., Branch-and-price, Operations Research 46 (1998)). It holds memory of the solver's until it is disposed of.
 */
export class Master {
  readonly network: Network;
  readonly rows: Rows;
  readonly #lp: WarmLp;
  readonly #parcels: number[];
  readonly plans: (PlanColumn & { column: number })[] = [];
  readonly #known = new Set<string>();
  readonly #outOfNothing: number[];
  #penalty: number;

  private constructor(network: Network, rows: Rows, lp: WarmLp) {
    this.network = network;
    this.rows = rows;
    this.#lp = lp;
    this.#parcels = network.parcels.list.map((_, k) => this.#add(rows.parcel(k), 1));
    network.parcels.list.forEach((_, k) => {
      const padding = rows.padding(k);
      if (padding) this.#add(padding, Infinity);
    });
    for (const option of network.groups.flat()) this.#add(rows.option(option), 1);
    network.requirements.forEach((_, at) => {
      const askedFor = rows.askedFor(at);
      if (askedFor) this.#add(askedFor, 1);
    });
    this.#penalty = dearest(network) * DEARER;
    this.#outOfNothing = network.requirements.map((_, at) =>
      this.#add(rows.outOfNothing(at, this.#penalty), Infinity),
    );
    for (const column of rows.supplierUsed()) this.#add(column, 1);
  }

  static async of(network: Network): Promise<Master> {
    const rows = new Rows(network);
    return new Master(network, rows, await WarmLp.ofRows(rows.limits));
  }

  #add({ cost, entries }: Priced, upper: number): number {
    const column: LpColumn = { cost, lower: 0, upper, entries };
    this.#lp.add([column]);
    return this.#lp.columns - 1;
  }

  /** Adds plans that are new; how many were. */
  addPlans(list: readonly PlanColumn[]): number {
    const fresh: LpColumn[] = [];
    for (const plan of list) {
      const key = keyOf(plan);
      if (this.#known.has(key)) continue;
      this.#known.add(key);
      this.plans.push({ ...plan, column: this.#lp.columns + fresh.length });
      fresh.push({ ...this.rows.plan(plan.requirement, plan.parts), lower: 0, upper: Infinity });
    }
    this.#lp.add(fresh);
    return fresh.length;
  }

  /** Adds the amounts of shared choices, and the plans, that the bound shows to be of use; how many there were. */
  addFrom(bound: Bound, { multipliers, asked, inParcel }: Relaxed, { open }: Ground): number {
    const { requirements, shared, parcels } = this.network;
    const plans = requirements.flatMap((_, at): PlanColumn[] => {
      const table = bound.tables[at]!;
      return table.least < asked[at]! - COLUMN_OF_USE ? [{ requirement: at, parts: table.plan() }] : [];
    });
    let count = this.addPlans(plans);
    shared.forEach(({ supplier }, at) => {
      const own = parcels.of[supplier] ?? [];
      for (const k of own.length > 0 ? own : [NONE]) {
        if (k !== NONE && open[k] === 0) continue;
        const { place, cost } = bestAmount(this.network, multipliers, at, k === NONE ? undefined : k);
        const key = `${at} ${place} ${k}`;
        if (cost + inParcel(at, k) >= -COLUMN_OF_USE || this.#known.has(key)) continue;
        this.#known.add(key);
        this.#add(this.rows.amount(at, place, k), Infinity);
        count++;
      }
    });
    return count;
  }

  /** Holds a parcel's column between these: 0 and 1 where it is undecided. */
  limitParcel(k: number, lower: number, upper: number): void {
    this.#lp.limitColumn(this.#parcels[k]!, lower, upper);
  }

  limitSupplier(supplier: number, must: boolean): void {
    const row = this.rows.oneOf(supplier);
    if (row !== NONE) this.#lp.limitRow(row, must ? 1 : -Infinity, 1);
  }

  /** Makes it dearer to meet requirements out of nothing; false where it is as dear as can be. */
  raisePenalty(): boolean {
    if (this.#penalty * DEARER > MOST_PENALTY) return false;
    this.#penalty *= DEARER;
    for (const column of this.#outOfNothing) this.#lp.changeCost(column, this.#penalty);
    return true;
  }

  /** Undefined where the control's time runs out, or the numbers are beyond the solver. Throws Cancelled. */
  solve(by: 'primal' | 'dual', control: Control): Relaxed | 'infeasible' | undefined {
    const answer = this.#lp.solve(by, control);
    if (!answer) return undefined;
    if (answer.status === 'infeasible') return 'infeasible';
    const { objective, values, rowDuals } = answer;
    return {
      objective,
      isReal: this.#outOfNothing.every((column) => values[column]! < MET_OUT_OF_NOTHING),
      sent: Float64Array.from(this.#parcels, (column) => values[column]!),
      used: this.plans.flatMap(({ column, ...plan }) => {
        const share = values[column]!;
        return share > COLUMN_IN_USE ? [{ plan, share }] : [];
      }),
      ...this.rows.multipliers(rowDuals),
    };
  }

  dispose(): void {
    this.#lp.dispose();
  }
}

/** Meeting a requirement out of nothing costs so many times as much as the dearest thing, and so many times more where that is not enough. */
const DEARER = 10;
const MOST_PENALTY = 1e9;

/** The dearest line or parcel, minor units. */
function dearest({ links, parcels, shared }: Network): number {
  const rate = parcels.list.reduce((most, parcel) => Math.max(most, parcel.rate), 0);
  const charge = parcels.list.reduce(
    (most, parcel) => Math.max(most, parcel.charge + parcel.rate * parcel.lower),
    1,
  );
  const value = links.reduce((most, { steps }) => Math.max(most, steps.at(-1)?.value ?? 0), 0);
  const amount = shared.reduce((most, { amounts }) => Math.max(most, amounts.at(-1)?.value ?? 0), 0);
  return charge + rate * Math.max(value, amount);
}

function keyOf({ requirement, parts }: PlanColumn): string {
  return `${requirement}:${parts.map(({ link, step, parcel }) => `${link}.${step}.${parcel}`).join(' ')}`;
}
