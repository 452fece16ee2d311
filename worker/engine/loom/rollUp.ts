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
  /** Those that are built. */
  looms: AskedLoom[];
  /** Those that are bought made, too. */
  all: AskedLoom[];
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
 * orders up to that one need. Pointers of findings are into the job. Nothing is bought for looms of these names that are bought
 * made; the checks look at the others beside them, and tell nothing that would be so without the others.
 */
export function rollUp(
  job: Job,
  control: Control,
  market = marketOf(job),
  lastWave = Infinity,
  boughtMade?: ReadonlySet<string>,
): RollUp {
  const drawn = askedLooms(job, lastWave, boughtMade);
  const leftOut = new LeftOutList();
  const figures = wireFiguresOf(job.parts);
  const isOnSale = market.has;
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const { standFor, findings } = vettedSubstitutes(job, drawn, { parts, figures, isOnSale });
  const { wires, tracerSleeves } = rollUpWires(
    drawn.filter(isBuilt),
    { parts: job.parts, standFor, figures },
    leftOut,
    findings,
  );
  if (control.cancelled()) throw new Cancelled();
  const all = asBought(drawn, standFor);
  const looms = all.filter(isBuilt);
  const known = { parts, figures, standFor, isOnSale };
  const context = contextOf(job, all, known);
  const { circuits, branches, coverings } = context;
  const lengths = withTracerSleeves(rollUpLengths(looms, parts, coverings, leftOut, findings), tracerSleeves);
  const counts = rollUpCounts(looms, job.parts, leftOut, findings);
  const checked = runChecks(context);
  const told = looms.length === all.length ? checked : withoutOwn(checked, job, all, known);
  return {
    looms,
    all,
    circuits,
    branches,
    requirements: [...wires, ...lengths, ...counts],
    leftOut: leftOut.lines(),
    findings: inJob(acceptFindings(withOwnSubjects([...findings, ...told], all), all), all, job),
    vetting: vettingOf(context, checked, control),
    context,
    checked: () => countChecked(context),
  };
}

const isBuilt = ({ boughtMade }: AskedLoom) => boughtMade !== true;

/** Findings without those of looms that are bought made which stand whatever the others are. */
function withoutOwn(
  checked: readonly Finding[],
  job: Job,
  all: readonly AskedLoom[],
  known: Parameters<typeof contextOf>[2],
): Finding[] {
  const bought = all.filter(({ boughtMade }) => boughtMade);
  const own = new Set(runChecks(contextOf(job, bought, known)).map((finding) => JSON.stringify(finding)));
  return checked.filter((finding) => !own.has(JSON.stringify(finding)));
}
