import type { Control } from '../../model/control.ts';
import { BeyondSolver } from '../../solver/milp.ts';
import type { Knowledge } from '../model/counted.ts';
import type { Problem } from '../problem/problem.ts';
import { casesOf } from './cases.ts';
import { networkOf } from './compile.ts';
import { cutPlansByRequirement } from './plansToCut.ts';
import { Fallen, lowest, type FallLine } from './fallen.ts';
import { firstPlans } from './firstPlans.ts';
import type { SearchOptions } from './incumbent.ts';
import { Master } from './master.ts';
import type { Network } from './network.ts';
import type { Ground } from './prices.ts';
import { Relaxation } from './relaxation.ts';
import { Search, type Searched } from './search.ts';

/** All mixes are parted into so many cases for bounds on choices by force, those with a supplier's parcel into so many. */
const MOST_CASES = 24;
const MOST_CASES_WITH = 8;

/** What no mix with a choice goes below. */
export interface Forced {
  /** By choice; undefined where nothing is known, none where no mix has it. */
  lines: (FallLine[] | undefined)[];
  /** By supplier, of whom something is bought; minor units. */
  suppliers: Float64Array;
}

/**
 * The network and the master model of a problem, kept for questions about it in which only limits change: which suppliers
 * send something, must, and how many may. Each goes on from the columns and the basis that those before have left. It holds
 * memory of the solver's until it is disposed of.
 */
export class Living {
  readonly #problem: Problem;
  readonly #network: Network;
  /** Of what is cut by counts and is bought by units, once that is asked. */
  readonly #knowledge: Knowledge = new Map();
  readonly #master: Master;

  private constructor(problem: Problem, network: Network, master: Master) {
    this.#problem = problem;
    this.#network = network;
    this.#master = master;
    master.addPlans(firstPlans(network));
  }

  /** Undefined where the problem is none that the search takes. `isAskedAnew`: for searches under other terms too. Throws Cancelled, and BeyondSolver. */
  static async of(problem: Problem, control: Control, isAskedAnew: boolean): Promise<Living | undefined> {
    // Of such scales every turn into floating point takes long: the whole-number model asks for fewer.
    if (!Number.isFinite(Number(problem.scale))) return undefined;
    const network = networkOf(problem, await cutPlansByRequirement(problem, control));
    if (!network) return undefined;
    return new Living(problem, network, await Master.of(network, isAskedAnew));
  }

  /**
   * The cheapest mix of the problem, or of one that differs from it in nothing but these suppliers, of whom nothing can be
   * bought, how many may send something, and which must. Throws Cancelled.
   */
  search(
    problem: Problem,
    shut: readonly number[],
    control: Control,
    options: SearchOptions,
  ): Promise<Searched> {
    const network = this.#asked(problem);
    return new Search(
      { problem, network, knowledge: this.#knowledge, master: this.#master, control, options },
      this.#without(shut),
    ).run();
  }

  /** What no mix of such a problem goes below, minor units; undefined where time ends it. Throws Cancelled, and BeyondSolver. */
  bound(problem: Problem, shut: readonly number[], control: Control): number | undefined {
    const relaxation = new Relaxation(this.#asked(problem), this.#master, control);
    const ground = this.#without(shut);
    const found = relaxation.of({ ground, bound: -Infinity }, { limit: () => Infinity });
    return found && ('closedBy' in found ? found.closedBy : found).bound;
  }

  /**
   * What no mix goes below that buys a choice, few units or many, also where its prices fall. `isUsed`: suppliers of whom
   * the cheapest mix buys; of each other one mixes are looked at that do. Undefined where time is short, or the numbers are
   * beyond the solver. Throws Cancelled.
   */
  forced(isUsed: (supplier: number) => boolean, control: Control): Forced | undefined {
    try {
      return this.#forced(isUsed, control);
    } catch (error) {
      if (!(error instanceof BeyondSolver)) throw error;
      return undefined;
    }
  }

  #forced(isUsed: (supplier: number) => boolean, control: Control): Forced | undefined {
    const network = this.#asked(this.#problem);
    const relaxation = new Relaxation(network, this.#master, control);
    const fallen = new Fallen(this.#problem, network);
    const found: Forced = {
      lines: this.#problem.choices.map(() => undefined),
      suppliers: new Float64Array(network.codes.length),
    };
    const take = (ground: Ground, most: number, isAsked: (supplier: number) => boolean): boolean => {
      const cases = casesOf(network, relaxation, ground, most);
      if (!cases) return false;
      const least = cases.reduce((bound, one) => Math.min(bound, one.bound), Infinity);
      network.codes.forEach((_, supplier) => {
        if (isAsked(supplier)) found.suppliers[supplier] = least;
      });
      const lines = cases.map((one) => fallen.within(one, isAsked));
      this.#problem.choices.forEach(({ supplier }, choice) => {
        if (!isAsked(supplier)) return;
        const own = lines.map((each) => each[choice]);
        if (!own.includes(undefined)) found.lines[choice] = lowest(own.flatMap((each) => each ?? []));
      });
      return true;
    };
    if (!take(this.#without([]), MOST_CASES, isUsed)) return undefined;
    for (const [supplier] of network.codes.entries()) {
      if (isUsed(supplier) || network.parcels.of[supplier]!.length === 0) continue;
      const ground = this.#without([]);
      ground.must[supplier] = 1;
      if (!take(ground, MOST_CASES_WITH, (other) => other === supplier)) break;
    }
    return found;
  }

  #asked(problem: Problem): Network {
    const { atMostSuppliers = Infinity, insistOn } = problem;
    const network = { ...this.#network, atMostSuppliers, insistOn };
    this.#master.ask(network);
    return network;
  }

  #without(shut: readonly number[]): Ground {
    const { parcels, codes } = this.#network;
    return {
      open: Uint8Array.from(parcels.list, ({ supplier }) => (shut.includes(supplier) ? 0 : 1)),
      must: new Uint8Array(codes.length),
    };
  }

  dispose(): void {
    this.#master.dispose();
  }
}
