import type { Band, Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { changed } from '../../worker/engine/sourcing/problem/changed.ts';
import { solveProblem, type Solved } from '../../worker/engine/sourcing/solve/solve.ts';
import { unhurried } from '../engine/fixtures.ts';

/** More than any mix costs. */
const NONE = 10n ** 40n;

/**
 * By choice, the least cost of all mixes that buy some of it, each solved for itself. 0 for suppliers with a band that
 * charges less than a later one, of whom it might be too much; and for lengths to be cut, which are not forced so.
 */
export async function exactlyForced(problem: Problem, { plan }: Pick<Solved, 'plan'>): Promise<bigint[]> {
  const least: bigint[] = [];
  for (const [at, choice] of problem.choices.entries()) {
    const sellers = problem.suppliers.filter(({ code }) => code === problem.suppliers[choice.supplier]?.code);
    if (sellers.some(({ bands }) => someFall(bands))) {
      least.push(0n);
      continue;
    }
    const forced = onlyFrom(problem, at);
    if (!forced) {
      least.push(0n);
      continue;
    }
    const solved = await solveProblem(forced, unhurried, { ties: false });
    const isNone =
      solved.plan.unmet.length > plan.unmet.length || solved.plan.without.length > plan.without.length;
    least.push(isNone ? NONE : solved.bound);
  }
  return least;
}

function someFall(bands: readonly Band[]): boolean {
  return bands.some((band) =>
    bands.some(
      (lower) =>
        lower.from < band.from &&
        (lower.rate < band.rate ||
          lower.charge + lower.rate * band.from < band.charge + band.rate * band.from),
    ),
  );
}

/** The problem in which some of a choice must be bought; undefined of lengths to be cut. */
function onlyFrom(problem: Problem, at: number): Problem | undefined {
  const served = (problem.choices[at]?.serves ?? []).flatMap(
    ({ requirement }) => problem.requirements[requirement] ?? [],
  );
  if (served.every(({ how }) => how === 'sum')) return buying(problem, at);
  const [only] = served;
  if (served.length > 1 || only?.how !== 'single' || only.when !== undefined) return undefined;
  const others = new Set(problem.choices.filter((_, other) => other !== at && only.choices.includes(other)));
  return changed(problem, { choices: (choice) => !others.has(choice) });
}

/** The problem with one more need, which only one unit of the choice meets. */
function buying(problem: Problem, at: number): Problem {
  return changed(problem, {
    added: {
      requirement: {
        id: 'one of it',
        need: 1,
        how: 'sum',
        pieces: [],
        oneSupplier: false,
        when: undefined,
        choices: [at],
        patterns: undefined,
        ways: [],
      },
      each: 1,
    },
  });
}
