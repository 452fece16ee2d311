import type { Control } from '../../model/control.ts';
import { WarmLp, type LpColumn } from '../../solver/warmLp.ts';
import { bestAmount, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import { NONE, Rows, type Asked, type Priced } from './rows.ts';
import { piecesFrom, type Ground, type Part } from './prices.ts';
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
  shared: SharedInUse;
  /** The plans in use, each with how far. */
  used: { plan: PlanColumn; share: number }[];
  multipliers: Multipliers;
  /** By requirement: what a plan must cost less than to be of use. */
  asked: Float64Array;
  inParcel: (shared: number, parcel: number) => number;
}

/** By shared choice: units bought, and those that a plan in use needs for itself at the most. */
export interface SharedInUse {
  bought: Float64Array;
  asked: Float64Array;
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
  /** By shared choice: the columns of its amounts, and between how many units it is held. */
  readonly #amounts: { column: number; place: number }[][];
  readonly #held: { least: number; most: number }[];
  readonly #outOfNothing: number[];
  #penalty: number;

  private constructor(network: Network, rows: Rows, lp: WarmLp) {
    this.network = network;
    this.rows = rows;
    this.#lp = lp;
    this.#amounts = network.shared.map(() => []);
    this.#held = network.shared.map(() => ({ least: 0, most: Infinity }));
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

  /** `isAskedAnew`: for searches under other terms than the network's, which `ask` says. */
  static async of(network: Network, isAskedAnew = false): Promise<Master> {
    const rows = new Rows(network, isAskedAnew);
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
  addFrom(bound: Bound, { multipliers, asked, inParcel }: Relaxed, { open, shared: limits }: Ground): number {
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
        const { place, cost } = bestAmount(this.network, multipliers, at, k === NONE ? undefined : k, limits);
        if (cost + inParcel(at, k) < -COLUMN_OF_USE && this.#addAmount(at, place, k)) count++;
      }
    });
    return count;
  }

  /** False where it is known. */
  #addAmount(at: number, place: number, k: number): boolean {
    const key = `${at} ${place} ${k}`;
    if (this.#known.has(key)) return false;
    this.#known.add(key);
    this.#amounts[at]!.push({ column: this.#add(this.rows.amount(at, place, k), Infinity), place });
    return true;
  }

  /** Holds units of a shared choice, and pieces out of it, between these. */
  limitShared(at: number, least: number, most: number): void {
    const [before, { amounts, supplier }] = [this.#held[at]!, this.network.shared[at]!];
    if (before.least === least && before.most === most) return;
    this.#held[at] = { least, most };
    for (const { row, limits } of this.rows.inRows(at, least > 0))
      this.#lp.limitRow(row, limits.lower, limits.upper);
    if (least > 0) {
      // Whichever parcel is sent, there must be some amount in it.
      const own = this.network.parcels.of[supplier] ?? [];
      const place = amounts.findIndex(({ units }) => units >= least && units <= most);
      if (place >= 0) for (const k of own.length > 0 ? own : [NONE]) this.#addAmount(at, place, k);
    }
    for (const { column, place } of this.#amounts[at]!) {
      const { units } = amounts[place]!;
      this.#lp.limitColumn(column, 0, units < least || units > most ? 0 : Infinity);
    }
    for (const plan of this.plans) {
      if (unitsFor(this.network, plan, at) === 0) continue;
      const isOut = this.#held.some(({ most: held }, other) => unitsFor(this.network, plan, other) > held);
      this.#lp.limitColumn(plan.column, 0, isOut ? 0 : Infinity);
    }
  }

  /** Holds the model to other terms. */
  ask(asked: Asked): void {
    for (const row of this.rows.ask(asked)) {
      const { lower, upper } = this.rows.limits[row]!;
      this.#lp.limitRow(row, lower, upper);
    }
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
      shared: {
        bought: Float64Array.from(this.#amounts, (own, at) =>
          own.reduce(
            (sum, { column, place }) =>
              sum + this.network.shared[at]!.amounts[place]!.units * values[column]!,
            0,
          ),
        ),
        asked: Float64Array.from(this.network.shared, (_, at) =>
          this.plans.reduce(
            (most, plan) =>
              values[plan.column]! > COLUMN_IN_USE ? Math.max(most, unitsFor(this.network, plan, at)) : most,
            0,
          ),
        ),
      },
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

/** Units of a shared choice out of which a plan's pieces come. */
function unitsFor(network: Network, { parts }: PlanColumn, at: number): number {
  return parts.reduce((most, { link: place, step }) => {
    const link = network.links[place]!;
    return link.shared === at ? Math.max(most, link.steps[step]!.gives / piecesFrom(network, link, 1)) : most;
  }, 0);
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
