import { Cancelled, type Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { LeftOut, Requirement } from '../model/result.ts';
import { asBought } from './wires/asBought.ts';
import { askedLooms, type AskedLoom } from './asked.ts';
import { rollUpCounts } from './counts/counts.ts';
import { branchesOf, type Branches } from './graph/branches.ts';
import { covered } from './coverings/covered.ts';
import { coveringsOf } from './coverings/layers.ts';
import { circuitsOf, type Circuits } from './graph/circuits.ts';
import { acceptFindings } from './checks/accepted.ts';
import { runChecks } from './checks/checks.ts';
import { fitsOf } from '../job/fits.ts';
import { wireFiguresOf } from './wires/wireFigures.ts';
import { rollUpLengths } from './lengths/lengthParts.ts';
import { inJob, withOwnSubjects } from './inJob.ts';
import { LeftOutList } from './leftOut.ts';
import { marketOf } from '../job/market.ts';
import { substitutesOf } from './wires/substitutes.ts';
import { withTracerSleeves } from './wires/tracerSleeves.ts';
import { rollUpWires } from './wires/wires.ts';

export interface RollUp {
  looms: AskedLoom[];
  /** Wires first, then other lengths, then what is counted, each by name. */
  requirements: Requirement[];
  leftOut: LeftOut[];
  findings: Finding[];
  circuits: Circuits;
  branches: Branches;
}

/**
 * A normalised job's looms as requirements: what is bought in all, with the sums that led to it; with `lastWave` what the
 * orders up to that one need. Pointers of findings are into the job.
 */
export function rollUp(job: Job, control: Control, market = marketOf(job), lastWave = Infinity): RollUp {
  const drawn = askedLooms(job, lastWave);
  const leftOut = new LeftOutList();
  const findings: Finding[] = [];
  const figures = wireFiguresOf(job.parts);
  const standFor = substitutesOf(job.parts, market.has);
  const { wires, tracerSleeves } = rollUpWires(
    drawn,
    { parts: job.parts, standFor, figures },
    leftOut,
    findings,
  );
  if (control.cancelled()) throw new Cancelled();
  const looms = asBought(drawn, standFor);
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const bundled = branchesOf(looms, parts, figures);
  const coverings = coveringsOf(looms, bundled, parts, market.has);
  const branches = covered(looms, bundled, coverings);
  const lengths = withTracerSleeves(rollUpLengths(looms, parts, coverings, leftOut, findings), tracerSleeves);
  const counts = rollUpCounts(looms, job.parts, leftOut, findings);
  const circuits = circuitsOf(looms);
  const context = {
    job,
    looms,
    parts,
    circuits,
    branches,
    coverings,
    fits: fitsOf(job.fits),
    figures,
    standFor,
  };
  const checked = runChecks(context);
  return {
    looms,
    circuits,
    branches,
    requirements: [...wires, ...lengths, ...counts],
    leftOut: leftOut.lines(),
    findings: inJob(acceptFindings(withOwnSubjects([...findings, ...checked], looms), looms), looms, job),
  };
}
