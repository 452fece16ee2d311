import type { Control } from '../../model/control.ts';
import { exactToSolver } from '../../units/money.ts';
import { NOTHING_LEFT } from '../model/aims.ts';
import { bestMix, type Mix } from '../model/mix.ts';
import { changed } from '../problem/changed.ts';
import type { Problem } from '../problem/problem.ts';
import { UNUSED } from './allowed.ts';
import { choicesAt } from './choicesAt.ts';
import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';
import { certify } from './settle.ts';

/**
 * The problem with what a node allows, its sellers being settled, and with the choices alone that a mix of less than the
 * limit can have there, what is bought beyond the need included.
 */
export function leafProblem(problem: Problem, relaxation: Relaxation, node: Node, limit: number): Problem {
  const { network } = relaxation;
  const bound = certify(relaxation, node) ?? -Infinity;
  const kept = new Set<number>();
  network.blocks.forEach((_, index) => {
    for (const { choice, more } of choicesAt(problem, relaxation, index))
      if (more <= limit - bound) kept.add(choice);
  });
  return changed(problem, {
    choices: (_, at) => kept.has(at),
    bands: (terms, s) => {
      const state = node.allowed[s]!;
      if (state === UNUSED) return terms.bands;
      const { bands } = network.sellers[s]!;
      // Where goods must be held below a dearer band, that band stands beside it.
      if (bands.some(({ held }, at) => held && (state & (1 << at)) !== 0)) return terms.bands;
      const isIn = (from: bigint) =>
        bands.some(({ lower, below }, at) => {
          const value = exactToSolver(from);
          return (state & (1 << at)) !== 0 && lower <= value && value < below;
        });
      return terms.bands.filter(({ from }) => isIn(from));
    },
  });
}

export function solveLeaf(leaf: Problem, control: Control): Promise<Mix> {
  return bestMix(leaf, { least: 'cost', left: NOTHING_LEFT }, new Map(), control);
}
