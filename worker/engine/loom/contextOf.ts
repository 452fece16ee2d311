import { fitsOf } from '../job/fits.ts';
import type { Job } from '../model/job.ts';
import type { AskedLoom } from './asked.ts';
import type { CheckContext } from './checks/context.ts';
import { covered } from './coverings/covered.ts';
import { coveringsOf } from './coverings/layers.ts';
import { branchesOf } from './graph/branches.ts';
import { circuitsOf } from './graph/circuits.ts';

/** What the checks look at, of these looms: what runs along each branch, what lies over it, what is joined to what. */
export function contextOf(
  job: Job,
  looms: readonly AskedLoom[],
  known: Pick<CheckContext, 'parts' | 'figures' | 'standFor'> & { onOffer: ReadonlySet<string> },
): CheckContext {
  const { parts, figures, standFor, onOffer } = known;
  const bundled = branchesOf(looms, parts, figures);
  const coverings = coveringsOf(looms, bundled, parts, onOffer);
  return {
    job,
    looms,
    parts,
    circuits: circuitsOf(looms),
    branches: covered(looms, bundled, coverings),
    coverings,
    fits: fitsOf(job.fits),
    figures,
    standFor,
  };
}
