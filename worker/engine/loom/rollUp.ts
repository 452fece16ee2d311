import { Cancelled, type Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { LeftOut, Requirement } from '../model/result.ts';
import { askedLooms, type AskedLoom } from './asked.ts';
import { rollUpCounts } from './counts.ts';
import { checkJoiners } from './joiners.ts';
import { checkEnds } from './endChecks.ts';
import { rollUpLengths } from './lengthParts.ts';
import { LeftOutList } from './leftOut.ts';
import { rollUpWires } from './wires.ts';

export interface RollUp {
  looms: AskedLoom[];
  /** Wires first, then other lengths, then what is counted, each by name. */
  requirements: Requirement[];
  leftOut: LeftOut[];
  findings: Finding[];
}

/** A normalised job's looms as requirements: what is bought in all, with the sums that led to it. */
export function rollUp(job: Job, control: Control): RollUp {
  const looms = askedLooms(job);
  const leftOut = new LeftOutList();
  const findings: Finding[] = [];
  const wires = rollUpWires(looms, job.parts, leftOut, findings);
  if (control.cancelled()) throw new Cancelled();
  const lengths = rollUpLengths(looms, job.parts, leftOut, findings);
  const counts = rollUpCounts(looms, job.parts, leftOut, findings);
  findings.push(...checkEnds(looms, job.parts), ...checkJoiners(looms));
  return { looms, requirements: [...wires, ...lengths, ...counts], leftOut: leftOut.lines(), findings };
}
