import { inStored } from './job/asStored.ts';
import { branchLine } from './loom/graph/branches.ts';
import { circuitLine } from './loom/graph/circuits.ts';
import { normaliseJob } from './job/normalise.ts';
import { rollUp } from './loom/rollUp.ts';
import type { Checks } from './model/checks.ts';
import { Cancelled, type Control } from './model/control.ts';
import { byGravity } from './model/finding.ts';
import type { Job } from './model/job.ts';

/**
 * The checks of the one loom that the job's request names, with its options: what roll-up and checks find, nothing of
 * sourcing. Pointers are into the revision as it is stored. Throws Cancelled when the control says so, and where the
 * request names another number of looms than one.
 */
export function checkLoom(given: Job, control: Control): Checks {
  if (control.cancelled()) throw new Cancelled();
  const job = normaliseJob(given);
  const { looms, circuits, branches, findings } = rollUp(job, control);
  const [asked] = looms;
  const stored = given.looms.find(({ code }) => code === asked?.code);
  if (!asked || !stored || looms.length > 1) throw new Error('a check is of one loom');
  const { loom, options } = asked;
  const placed = inStored(loom, stored);
  return {
    loom: loom.code,
    revision: loom.revision,
    options,
    findings: findings.map((finding) => ({ ...finding, at: placed(finding.at) })).sort(byGravity),
    branches: branches.of(loom.code).map(branchLine),
    circuits: circuits.all.map(circuitLine),
  };
}
