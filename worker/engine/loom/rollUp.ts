import { Cancelled, type Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { LeftOut, Requirement } from '../model/result.ts';
import { asBought } from './wires/asBought.ts';
import { askedLooms, type AskedLoom } from './asked.ts';
import { rollUpCounts } from './counts/counts.ts';
import type { Branches } from './graph/branches.ts';
import { contextOf } from './contextOf.ts';
import type { CheckContext } from './checks/context.ts';
import type { Circuits } from './graph/circuits.ts';
import { acceptFindings } from './checks/accepted.ts';
import { countChecked, type Checked } from './checks/countChecked.ts';
import { runChecks } from './checks/checks.ts';
import { vettingOf, type Vetting } from './checks/inPlace.ts';
import { wireFiguresOf } from './wires/wireFigures.ts';
import { rollUpLengths } from './lengths/lengthParts.ts';
import { inJob, withOwnSubjects } from './inJob.ts';
import { LeftOutList } from './leftOut.ts';
import { marketOf } from '../job/market.ts';
import { withTracerSleeves } from './wires/tracerSleeves.ts';
import { vettedSubstitutes } from './wires/vettedSubstitutes.ts';
import { rollUpWires } from './wires/wires.ts';

export interface RollUp {
  looms: AskedLoom[];
  /** Wires first, then other lengths, then what is counted, each by name. */
  requirements: Requirement[];
  leftOut: LeftOut[];
  findings: Finding[];
  circuits: Circuits;
  branches: Branches;
  vetting: Vetting;
  /** What was looked at: what is joined to what, what runs and lies where. */
  context: CheckContext;
  /** How much was checked against what. */
  checked: () => Checked;
}

/**
 * A normalised job's looms as requirements: what is bought in all, with the sums that led to it; with `lastWave` what the
 * orders up to that one need. Pointers of findings are into the job.
 */
export function rollUp(job: Job, control: Control, market = marketOf(job), lastWave = Infinity): RollUp {
  const drawn = askedLooms(job, lastWave);
  const leftOut = new LeftOutList();
  const figures = wireFiguresOf(job.parts);
  const isOnSale = market.has;
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const { standFor, findings } = vettedSubstitutes(job, drawn, { parts, figures, isOnSale });
  const { wires, tracerSleeves } = rollUpWires(
    drawn,
    { parts: job.parts, standFor, figures },
    leftOut,
    findings,
  );
  if (control.cancelled()) throw new Cancelled();
  const looms = asBought(drawn, standFor);
  const context = contextOf(job, looms, { parts, figures, standFor, isOnSale });
  const { circuits, branches, coverings } = context;
  const lengths = withTracerSleeves(rollUpLengths(looms, parts, coverings, leftOut, findings), tracerSleeves);
  const counts = rollUpCounts(looms, job.parts, leftOut, findings);
  const checked = runChecks(context);
  return {
    looms,
    circuits,
    branches,
    requirements: [...wires, ...lengths, ...counts],
    leftOut: leftOut.lines(),
    findings: inJob(acceptFindings(withOwnSubjects([...findings, ...checked], looms), looms), looms, job),
    vetting: vettingOf(context, checked, control),
    context,
    checked: () => countChecked(context),
  };
}
