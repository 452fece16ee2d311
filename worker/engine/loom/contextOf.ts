import { fitsOf } from '../job/fits.ts';
import type { Job } from '../model/job.ts';
import type { AskedLoom } from './asked.ts';
import type { CheckContext } from './checks/context.ts';
import { covered } from './coverings/covered.ts';
import { coveringsOf } from './coverings/layers.ts';
import { branchesOf } from './graph/branches.ts';
import { circuitsOf } from './graph/circuits.ts';
import { protectionOf } from './protection/protection.ts';

/** What the checks look at, of these looms: what runs along each branch, what lies over it, what is joined to what. */
export function contextOf(
  job: Job,
  looms: readonly AskedLoom[],
  known: Pick<CheckContext, 'parts' | 'figures' | 'standFor'> & { isOnSale: (part: string) => boolean },
): CheckContext {
  const { parts, figures, standFor, isOnSale } = known;
  const bundled = branchesOf(looms, parts, figures);
  const coverings = coveringsOf(looms, bundled, parts, isOnSale);
  const circuits = circuitsOf(looms, parts);
  const fits = fitsOf(job.fits, job.doubtedFits);
  return {
    job,
    looms,
    parts,
    circuits,
    branches: covered(looms, bundled, coverings),
    coverings,
    fits,
    protection: protectionOf({ looms, parts, circuits, fits }),
    figures,
    standFor,
  };
}
