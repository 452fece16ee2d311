import type { Control } from '../../../worker/engine/model/control.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import type { Certificate } from '../../../worker/engine/sourcing/search/certificate.ts';
import { solveProblem } from '../../../worker/engine/sourcing/solve/solve.ts';
import { countedRequirements } from './counted.ts';
import { Recomputation } from './recomputed.ts';
import { wrongWith } from './verdict.ts';

/** A problem solved, and all that the search closed on the way. */
export interface Certified {
  cost: bigint;
  proven: boolean;
  certificates: readonly Certificate[];
}

export async function certified(problem: Problem, control: Control): Promise<Certified> {
  const certificates: Certificate[] = [];
  const { cost, proven } = await solveProblem(problem, control, {
    ties: false,
    onCertificate: (certificate) => certificates.push(certificate),
  });
  return { cost, proven, certificates };
}

/** For each certificate why it does not hold; or, in words, what the problem has that is not recomputed. */
export function wrongAmong(
  problem: Problem,
  { cost, certificates }: Pick<Certified, 'cost' | 'certificates'>,
): (string | undefined)[] | string {
  const requirements = countedRequirements(problem);
  if (typeof requirements === 'string') return requirements;
  const recomputation = new Recomputation(problem, requirements);
  return certificates.map((certificate) => wrongWith(problem, recomputation, certificate, cost));
}
