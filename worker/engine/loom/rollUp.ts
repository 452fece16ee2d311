import { Cancelled, type Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { LeftOut, Requirement } from '../model/result.ts';
import { asBought } from './wires/asBought.ts';
import { askedLooms, quoteSettings, valuesOf, type AskedLoom } from './asked.ts';
import { rollUpCounts } from './counts/counts.ts';
import { branchesOf, type Branches } from './graph/branches.ts';
import { covered } from './coverings/covered.ts';
import { coveringsOf } from './coverings/layers.ts';
import { circuitsOf, type Circuits } from './graph/circuits.ts';
import { acceptFindings } from './checks/accepted.ts';
import { countChecked, type Checked } from './checks/countChecked.ts';
import { runChecks } from './checks/checks.ts';
import { protectionOf } from './protection/protection.ts';
import { fitsOf } from '../job/fits.ts';
import { wireFiguresOf } from './wires/wireFigures.ts';
import { rollUpLengths } from './lengths/lengthParts.ts';
import { LeftOutList } from './leftOut.ts';
import { partsOnOffer } from '../job/onOffer.ts';
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
  /** How much was checked against what. */
  checked: () => Checked;
}

/** A normalised job's looms as requirements: what is bought in all, with the sums that led to it. */
export function rollUp(job: Job, control: Control): RollUp {
  const drawn = askedLooms(job);
  const leftOut = new LeftOutList();
  const findings: Finding[] = [];
  const figures = wireFiguresOf(job.parts);
  const onOffer = partsOnOffer(job, valuesOf(quoteSettings(job)).conditionsAccepted);
  const standFor = substitutesOf(job.parts, onOffer);
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
  const coverings = coveringsOf(looms, bundled, parts, onOffer);
  const branches = covered(looms, bundled, coverings);
  const lengths = withTracerSleeves(rollUpLengths(looms, parts, coverings, leftOut, findings), tracerSleeves);
  const counts = rollUpCounts(looms, job.parts, leftOut, findings);
  const circuits = circuitsOf(looms);
  const fits = fitsOf(job.fits);
  const context = {
    job,
    looms,
    parts,
    circuits,
    branches,
    coverings,
    fits,
    protection: protectionOf({ looms, parts, circuits, fits }),
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
    findings: acceptFindings([...findings, ...checked], looms),
    checked: () => countChecked(context),
  };
}
