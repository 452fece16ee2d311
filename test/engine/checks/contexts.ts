import { askedLooms } from '../../../worker/engine/loom/asked.ts';
import type { Branches } from '../../../worker/engine/loom/graph/branches.ts';
import type { CheckContext } from '../../../worker/engine/loom/checks/context.ts';
import { circuitsOf } from '../../../worker/engine/loom/graph/circuits.ts';
import type { Coverings } from '../../../worker/engine/loom/coverings/layers.ts';
import { protectionOf } from '../../../worker/engine/loom/protection/protection.ts';
import { fitsOf } from '../../../worker/engine/job/fits.ts';
import { marketOf } from '../../../worker/engine/job/market.ts';
import { substitutesOf } from '../../../worker/engine/loom/wires/substitutes.ts';
import { wireFiguresOf } from '../../../worker/engine/loom/wires/wireFigures.ts';
import type { Finding } from '../../../worker/engine/model/finding.ts';
import { jobOf } from '../fixtures.ts';

type Given = Parameters<typeof jobOf>[0];

const NO_BRANCHES: Branches = { of: () => [] };
const NO_COVERINGS: Coverings = { of: () => [] };

/** What an electrical check looks at, of a job as it is given. */
export function contextOf(given: Given, branches: Branches = NO_BRANCHES): CheckContext {
  const job = jobOf(given);
  const looms = askedLooms(job);
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const circuits = circuitsOf(looms, new Map(job.parts.map((part) => [part.code, part])));
  const fits = fitsOf(job.fits);
  return {
    job,
    looms,
    branches,
    coverings: NO_COVERINGS,
    parts,
    circuits,
    fits,
    protection: protectionOf({ looms, parts, circuits, fits }),
    figures: wireFiguresOf(job.parts),
    standFor: substitutesOf(job.parts, marketOf(job).has),
  };
}

/** "wire-overloaded wire:W1" */
export const inShort = (findings: readonly Finding[]) =>
  findings.map(({ code, subject }) => `${code} ${subject ?? ''}`);
