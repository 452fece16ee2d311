import type { Entry } from '../../solver/model.ts';
import type { Multipliers } from './multipliers.ts';
import { noMultipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import type { Part } from './prices.ts';

interface Limits {
  lower: number;
  upper: number;
}

/** A column without its limits. */
export interface Priced {
  cost: number;
  entries: Entry[];
}

/** Terms that may change while the model is kept. */
export type Asked = Pick<Network, 'atMostSuppliers' | 'insistOn'>;

/**
 * The rows of the master model, numbered through, and the entries that its columns have in them:
 *
 *   asked_r       Σ_p z_rp = 1, or = whether one of its options is chosen
 *   link_lk       Σ_{p uses link l in parcel k} z_p ≤ y_k        (pieces out of a shared choice: ≤ Σ q of it)
 *   one_s         Σ_k y_sk ≤ 1
 *   lower_k       goods in k + padding ≥ lower · y_k;  upper_k, heavy_k: goods, weight in k ≤ limit · y_k where held
 *   capacity_c    pieces used ≤ pieces in what is bought of c;  in_ck: Σ_amounts q_cak ≤ y_k
 *   stock, options, suppliers at most, suppliers insisted on
 */
export class Rows {
  readonly limits: Limits[] = [];
  readonly #network: Network;
  readonly #asked: readonly number[];
  readonly #pulls: readonly (readonly number[])[];
  readonly #within: readonly number[];
  readonly #link: readonly (readonly number[])[];
  readonly #one: readonly number[];
  readonly #lower: readonly number[];
  readonly #upper: readonly number[];
  readonly #heavy: readonly number[];
  readonly #capacity: readonly (readonly number[])[];
  readonly #in: readonly ReadonlyMap<number, number>[];
  readonly #stock: readonly number[];
  readonly #group: readonly number[];
  readonly #used: number;
  readonly #usedBy: readonly number[];
  readonly #insisted: ReadonlyMap<string, number>;

  /** `isAskedAnew`: with rows for all terms that `ask` may hold them to. */
  constructor(network: Network, isAskedAnew = false) {
    this.#network = network;
    const { requirements, links, parcels, shared, stock, groups, codes, insistOn } = network;
    const several = (when: readonly number[] | undefined) => when !== undefined && when.length > 1;
    this.#asked = requirements.map(({ when }) => (when ? this.#row(0, 0) : this.#row(1, 1)));
    this.#pulls = requirements.map(({ when }) =>
      several(when) ? when!.map(() => this.#row(0, Infinity)) : [],
    );
    this.#within = requirements.map(({ when }) => (several(when) ? this.#row(0, Infinity) : NONE));
    this.#link = links.map(({ supplier, shared: of }) =>
      of === undefined
        ? (parcels.of[supplier] ?? []).map(() => this.#row(0, Infinity))
        : [this.#row(0, Infinity)],
    );
    this.#one = codes.map((_, s) => ((parcels.of[s] ?? []).length > 0 ? this.#row(-Infinity, 1) : NONE));
    this.#lower = parcels.list.map(({ lower }) => (lower > 0 ? this.#row(0, Infinity) : NONE));
    this.#upper = parcels.list.map(({ heldByValue }) => (heldByValue ? this.#row(-Infinity, 0) : NONE));
    this.#heavy = parcels.list.map(({ heldByWeight }) => (heldByWeight ? this.#row(-Infinity, 0) : NONE));
    this.#capacity = shared.map(({ capacities }) => capacities.map(() => this.#row(0, Infinity)));
    this.#in = shared.map(({ supplier }) => {
      const own = parcels.of[supplier] ?? [];
      // The own shelf sends no parcel.
      return new Map(
        own.length > 0 ? own.map((k) => [k, this.#row(0, Infinity)]) : [[NONE, this.#row(-1, Infinity)]],
      );
    });
    this.#stock = stock.map(({ mostUnits }) => this.#row(-Infinity, mostUnits));
    this.#group = groups.map(() => this.#row(1, 1));
    const limited = isAskedAnew || Number.isFinite(network.atMostSuppliers);
    const sending = [...new Set(codes.filter((_, s) => (parcels.of[s] ?? []).length > 0))];
    this.#used = limited ? this.#row(-Infinity, Infinity) : NONE;
    this.#usedBy = codes.map((_, s) =>
      limited && (parcels.of[s] ?? []).length > 0 ? this.#row(0, Infinity) : NONE,
    );
    this.#insisted = new Map(
      sending
        .filter((code) => isAskedAnew || insistOn.includes(code))
        .map((code) => [code, this.#row(0, Infinity)]),
    );
    this.ask(network);
  }

  /** Holds rows to other terms; which rows these are. Rows that are not asked anew must have been made for such terms. */
  ask({ atMostSuppliers, insistOn }: Asked): number[] {
    if (this.#used !== NONE) this.limits[this.#used] = { lower: -Infinity, upper: atMostSuppliers };
    for (const [code, row] of this.#insisted)
      this.limits[row] = { lower: insistOn.includes(code) ? 1 : 0, upper: Infinity };
    return [...(this.#used === NONE ? [] : [this.#used]), ...this.#insisted.values()];
  }

  #row(lower: number, upper: number): number {
    this.limits.push({ lower, upper });
    return this.limits.length - 1;
  }

  askedRow(requirement: number): number {
    return this.#asked[requirement]!;
  }

  /** The first row of a link: of pieces out of a shared choice, the one that says whether any are bought. */
  linkRow(link: number): number {
    return this.#link[link]![0]!;
  }

  /** What a piece out of a shared choice takes of what it can give. */
  pieceEntries(requirement: number, shared: number): Entry[] {
    return this.#network.shared[shared]!.capacities.flatMap(({ requirements }, row): Entry[] =>
      requirements.includes(requirement) ? [[this.#capacity[shared]![row]!, 1]] : [],
    );
  }

  /** What so many units of a choice are of scarce stock. */
  unitEntries(choice: number, units: number): Entry[] {
    return this.#network.stock.flatMap(({ choices }, row): Entry[] =>
      choices.has(choice) ? [[this.#stock[row]!, units]] : [],
    );
  }

  /** The row that says how often a supplier sends a parcel. */
  oneOf(supplier: number): number {
    return this.#one[supplier]!;
  }

  plan(requirement: number, parts: readonly Part[]): Priced {
    const { links, parcels, shared, stock } = this.#network;
    const entries: Entry[] = [[this.#asked[requirement]!, 1]];
    const sums = new Map<number, number>();
    const add = (row: number, value: number) => {
      if (row !== NONE && value !== 0) sums.set(row, (sums.get(row) ?? 0) + value);
    };
    let cost = 0;
    for (const { link: at, step, parcel } of parts) {
      const link = links[at]!;
      const { value, grams, lines, gives } = link.steps[step]!;
      if (link.shared !== undefined) {
        add(this.#link[at]![0]!, -1);
        shared[link.shared]!.capacities.forEach(({ requirements }, row) => {
          if (requirements.includes(requirement)) add(this.#capacity[link.shared!]![row]!, -gives);
        });
        continue;
      }
      if (parcel >= 0) {
        cost += parcels.list[parcel]!.rate * value;
        add(this.#link[at]![parcels.of[link.supplier]!.indexOf(parcel)]!, -1);
        this.goods(parcel, value, grams, add);
      }
      stock.forEach(({ choices }, row) => {
        for (const { choice, units } of lines) if (choices.has(choice)) add(this.#stock[row]!, units);
      });
    }
    return { cost, entries: [...entries, ...sums] };
  }

  /** Goods in a parcel, as they count towards its limits. */
  goods(parcel: number, value: number, grams: number, add: (row: number, value: number) => void): void {
    const rows = [
      [this.#lower[parcel]!, value],
      [this.#upper[parcel]!, value],
      [this.#heavy[parcel]!, grams],
    ] as const;
    for (const [row, amount] of rows) if (row !== NONE && amount !== 0) add(row, amount);
  }

  /** Some amount of a shared choice, in a parcel; `NONE`: off the own shelf. */
  amount(at: number, place: number, parcel: number): Priced {
    const { links, parcels, shared, stock } = this.#network;
    const { choice, amounts, capacities } = shared[at]!;
    const { units, value, grams } = amounts[place]!;
    const entries: Entry[] = [[this.#in[at]!.get(parcel)!, -1]];
    links.forEach((link, l) => {
      if (link.shared === at) entries.push([this.#link[l]![0]!, 1]);
    });
    capacities.forEach(({ each }, row) => entries.push([this.#capacity[at]![row]!, each * units]));
    stock.forEach(({ choices }, row) => {
      if (choices.has(choice)) entries.push([this.#stock[row]!, units]);
    });
    if (parcel === NONE) return { cost: 0, entries };
    this.goods(parcel, value, grams, (row, amount) => {
      if (row !== NONE && amount !== 0) entries.push([row, amount]);
    });
    return { cost: parcels.list[parcel]!.rate * value, entries };
  }

  /** The rows that hold a shared choice to parcels that are sent, or the own shelf; and their limits, where some must be bought or need not be. */
  inRows(shared: number, must: boolean): { row: number; limits: Limits }[] {
    return [...this.#in[shared]!].map(([parcel, row]) => {
      const lower = parcel === NONE ? -1 : 0;
      return { row, limits: { lower, upper: must ? lower : Infinity } };
    });
  }

  parcel(k: number): Priced {
    const { parcels, links, shared, codes } = this.#network;
    const { supplier, charge, lower, below, gramsBelow } = parcels.list[k]!;
    const place = parcels.of[supplier]!.indexOf(k);
    const entries: Entry[] = [[this.#one[supplier]!, 1]];
    links.forEach((link, l) => {
      if (link.supplier === supplier && link.shared === undefined) entries.push([this.#link[l]![place]!, 1]);
    });
    shared.forEach((one, at) => {
      if (one.supplier === supplier) entries.push([this.#in[at]!.get(k)!, 1]);
    });
    const add = (row: number | undefined, value: number) => {
      if (row !== undefined && row !== NONE) entries.push([row, value]);
    };
    add(this.#lower[k], -lower);
    add(this.#upper[k], -below);
    add(this.#heavy[k], -gramsBelow);
    add(this.#usedBy[supplier], -1);
    add(this.#insisted.get(codes[supplier]!), 1);
    return { cost: charge, entries };
  }

  /** Money that makes goods up to a parcel's lower limit; undefined where it has none. */
  padding(k: number): Priced | undefined {
    const row = this.#lower[k]!;
    return row === NONE ? undefined : { cost: this.#network.parcels.list[k]!.rate, entries: [[row, 1]] };
  }

  option(option: number): Priced {
    const { requirements, groups } = this.#network;
    const entries: Entry[] = [];
    groups.forEach((group, at) => {
      if (group.includes(option)) entries.push([this.#group[at]!, 1]);
    });
    requirements.forEach(({ when }, at) => {
      const place = when?.indexOf(option) ?? -1;
      if (place < 0) return;
      if (when!.length === 1) entries.push([this.#asked[at]!, -1]);
      else entries.push([this.#pulls[at]![place]!, -1], [this.#within[at]!, 1]);
    });
    return { cost: 0, entries };
  }

  /** Whether a requirement of several options is asked for; undefined for any other. */
  askedFor(requirement: number): Priced | undefined {
    const pulls = this.#pulls[requirement]!;
    if (pulls.length === 0) return undefined;
    return {
      cost: 0,
      entries: [
        [this.#asked[requirement]!, -1],
        [this.#within[requirement]!, -1],
        ...pulls.map((row): Entry => [row, 1]),
      ],
    };
  }

  /** The columns that count a supplier once, whichever of its orders it sends; none where their number is not limited. */
  supplierUsed(): Priced[] {
    const all = this.#used;
    if (all === NONE) return [];
    const { codes } = this.#network;
    return [...new Set(codes)].flatMap((code) => {
      const rows = codes.flatMap((own, s): Entry[] =>
        own === code && this.#usedBy[s] !== NONE ? [[this.#usedBy[s]!, 1]] : [],
      );
      return rows.length > 0 ? [{ cost: 0, entries: [[all, 1] as const, ...rows] }] : [];
    });
  }

  /** A requirement met out of nothing, for so much: so that the model has an answer before the plans that it takes are known. */
  outOfNothing(requirement: number, cost: number): Priced {
    return { cost, entries: [[this.#asked[requirement]!, 1]] };
  }

  /** What the rows' duals are as multipliers, those of the wrong sign by the solver's noise as 0; and what one of each requirement costs. */
  multipliers(duals: ArrayLike<number>): {
    multipliers: Multipliers;
    asked: Float64Array;
    inParcel: (at: number, parcel: number) => number;
  } {
    const at = (row: number | undefined) => (row === undefined || row === NONE ? 0 : duals[row]!);
    const over = (row: number | undefined) => Math.max(0, at(row));
    const under = (row: number | undefined) => Math.max(0, -at(row));
    const multipliers: Multipliers = {
      ...noMultipliers(this.#network),
      link: this.#link.map((rows) => Float64Array.from(rows, over)),
      credit: Float64Array.from(
        this.#lower,
        (row, k) => Math.min(over(row), this.#network.parcels.list[k]!.rate) - under(this.#upper[k]),
      ),
      weight: Float64Array.from(this.#heavy, under),
      capacity: this.#capacity.map((rows) => Float64Array.from(rows, over)),
      stock: Float64Array.from(this.#stock, under),
      asked: this.#pulls.map((rows) => Float64Array.from(rows, over)),
    };
    return {
      multipliers,
      asked: Float64Array.from(this.#asked, at),
      inParcel: (shared, parcel) => at(this.#in[shared]!.get(parcel)),
    };
  }
}

/** No row, or no parcel. */
export const NONE = -1;
