import type { Control } from '../../model/control.ts';
import type { Problem } from '../problem/problem.ts';
import type { SearchOptions } from './incumbent.ts';
import { Living } from './living.ts';
import type { Searched } from './search.ts';

/**
 * The cheapest mix: a facility location problem of requirements and parcels, its linear relaxation by column generation,
 * what cannot be part of a cheaper mix left out, and the rest put to the solver; by branching on parcels where that is too
 * much. Buying from suppliers whose rates fall in steps is Goossens, Maas, Spieksma & van de Klundert, Exact algorithms for
 * procurement problems under a total quantity discount structure, EJOR 178 (2007), and Manerba & Mansini, EJOR 222 (2012).
 * Undefined where the problem is none that it takes. Throws Cancelled, and BeyondSolver.
 */
export async function searchMix(
  problem: Problem,
  control: Control,
  options: SearchOptions,
): Promise<Searched | undefined> {
  const living = await Living.of(problem, control, false);
  try {
    return await living?.search(problem, [], control, options);
  } finally {
    living?.dispose();
  }
}
