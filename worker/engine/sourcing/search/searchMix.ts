import type { Control } from '../../model/control.ts';
import { BeyondSolver } from '../../solver/milp.ts';
import { startingKnowledge } from '../model/counted.ts';
import type { Problem } from '../problem/problem.ts';
import { networkOf } from './compile.ts';
import { cutStepsOf } from './cutSteps.ts';
import type { SearchOptions } from './incumbent.ts';
import { Master } from './master.ts';
import { Search, type Searched } from './search.ts';

/**
 * The cheapest mix: a facility location problem of requirements and parcels, its linear relaxation by column generation,
 * what cannot be part of a cheaper mix left out, and the rest put to the solver; by branching on parcels where that is too
 * much. Buying from suppliers whose rates fall in steps is Goossens, Maas, Spieksma & van de Klundert, Exact algorithms for
 * procurement problems under a total quantity discount structure, EJOR 178 (2007), and Manerba & Mansini, EJOR 222 (2012).
 * Undefined where the problem is none that it takes. Throws Cancelled, and BeyondSolver.
 */
export function searchMix(
  problem: Problem,
  control: Control,
  options: SearchOptions,
): Promise<Searched | undefined> {
  return withSearch(problem, control, options, (search) => search.run());
}

/**
 * For each choice what no mix that buys any of it goes below, minor units: the relaxation's bound, and what the choice adds
 * to it. Undefined where the problem is none that the search takes, time is short, or the numbers are beyond the solver.
 * Throws Cancelled.
 */
export function forcedCosts(problem: Problem, control: Control): Promise<Float64Array | undefined> {
  return withSearch(problem, control, {}, (search) => Promise.resolve(search.forced())).catch(
    (error: unknown) => {
      if (!(error instanceof BeyondSolver)) throw error;
      return undefined;
    },
  );
}

async function withSearch<T>(
  problem: Problem,
  control: Control,
  options: SearchOptions,
  use: (search: Search) => Promise<T | undefined>,
): Promise<T | undefined> {
  // Of such scales every turn into floating point takes long: the whole-number model asks for fewer.
  if (!Number.isFinite(Number(problem.scale))) return undefined;
  const network = networkOf(problem, await cutStepsOf(problem, control));
  if (!network) return undefined;
  const { requirements } = network;
  const knowledge = await startingKnowledge(
    problem,
    control,
    (requirement) => requirements[requirement]!.isLoose,
  );
  const master = await Master.of(network);
  try {
    return await use(new Search(problem, network, knowledge, master, control, options));
  } finally {
    master.dispose();
  }
}
