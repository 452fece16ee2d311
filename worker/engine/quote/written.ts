import { buildOrBuyIn } from '../buildOrBuy/written.ts';
import type { Compared } from '../buildOrBuy/compare.ts';
import type { Beside } from '../beside/beside.ts';
import { benchOf } from '../bench/bench.ts';
import { notYetUsed } from '../job/usage.ts';
import { branchLine } from '../loom/graph/branches.ts';
import { circuitLine } from '../loom/graph/circuits.ts';
import { hashOf } from '../model/canonical.ts';
import type { Comparison } from '../model/comparison.ts';
import type { Control } from '../model/control.ts';
import { byGravity } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { RESULT_FORMAT, RESULT_VERSION, type LoomCircuit, type Result } from '../model/result.ts';
import { supplierNamesOf } from '../model/supplierNames.ts';
import type { Ordered } from '../order.ts';
import { chargedOf, paidFor, sharesOf } from '../sourcing/problem/pricing.ts';
import { proofOf } from '../sourcing/solve/proof.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { minorToAmount } from '../units/money.ts';
import { besideIn } from './beside.ts';
import { asBoughtFor } from './boughtAs.ts';
import { cautionsOf } from './cautions.ts';
import { cuttingPlansOf } from './cuttingPlans.ts';
import { fromStockOf } from './fromStock.ts';
import { leftoversOf } from './leftovers.ts';
import { orderChecks } from './orderChecks.ts';
import { withEnds } from './pieceEnds.ts';
import { costLinesOf, orderListsOf } from './orderLists.ts';
import { boughtIn } from './purchases.ts';
import { familiesOf, ratesOf, standInChecks } from './terms.ts';
import { doubtedStandIns } from './doubtedStandIns.ts';
import { unconfirmedChecks, unconfirmedIn } from './unconfirmed.ts';
import { unsourcedChecks } from './unsourcedChecks.ts';

/** Used where building is compared with buying made. */
const FOR_LOOMS = 'parts[kind=madeUpLoom].forLooms';

/** What was worked out of a job's offers. */
interface Worked {
  sourcing: Sourcing;
  comparisons: Comparison[];
  /** Whether these were not worked to their end. */
  isOpen?: boolean;
  beside?: Beside | undefined;
  /** What lies beside is still to be worked. */
  isWorking?: boolean;
  /** Building compared with buying made; or whether that is still to be done. */
  compared?: Compared;
  isComparing?: boolean;
  /** Whether other mixes were looked at in less time than it takes. */
  isCut?: boolean;
}

/** The result of a normalised job, out of all that was worked. */
export function writtenOf(
  job: Job,
  { rolledUp, order, settings, values, bought: boughtMade }: Ordered,
  worked: Worked,
  control: Control,
): Result {
  const { sourcing, comparisons, beside, isWorking = false, compared, isComparing = false } = worked;
  control.report({ phase: 'writing', message: 'Writing the quote.' });
  const { currency } = job.club;
  const {
    looms,
    all: drawn,
    circuits,
    branches,
    requirements,
    leftOut,
    findings,
    checked,
    context,
  } = rolledUp;
  const { problem, plan, solved } = sourcing;
  const replaced = new Map(
    boughtMade.flatMap(({ looms, part }) => looms.map((name) => [name, part] as const)),
  );
  const boughtAs = (name: string) => {
    const part = replaced.get(name);
    return part === undefined ? {} : { boughtMade: part };
  };
  const shares = sharesOf(problem, plan);
  const mix = { job, market: order.market, problem, plan, sourced: sourcing.sourced, shares };
  const bought = boughtIn(mix);
  const fromStock = fromStockOf(mix);
  const unconfirmed = unconfirmedIn(job, bought);
  const all = [...requirements, ...sourcing.tools];
  const cuttingPlans = cuttingPlansOf(mix, solved?.proven === true);
  const leftovers = leftoversOf(mix, bought, all);
  const { thresholdMarginPercent } = values;
  const orderLists = orderListsOf(mix, bought, { thresholdMarginPercent, cuttingPlans, leftovers });
  return {
    format: RESULT_FORMAT,
    version: RESULT_VERSION,
    jobHash: hashOf(job),
    asOf: job.asOf,
    currency,
    looms: drawn.map(({ loom, code, quantity, options, effective }) => ({
      loom: code,
      revision: loom.revision,
      name: loom.name,
      quantity,
      options,
      ...(loom.code === code ? {} : { madeAs: loom.code }),
      ...boughtAs(loom.code),
      branches: branches.of(loom.code).map(branchLine),
      settings: effective,
    })),

    settings,
    circuits: withoutWiresOf(circuits.all.map(circuitLine), replaced),
    bench: benchOf(context, requirements),
    requirements: withEnds(asBoughtFor(all, mix, bought, fromStock), looms),
    leftOut,
    families: familiesOf(sourcing),
    rates: ratesOf(mix),
    fromStock,
    purchases: bought.map(({ purchase }) => purchase),
    ...(unconfirmed.length === 0 ? {} : { unconfirmed }),
    cuttingPlans,
    leftovers,
    orderLists,
    supplierNames: supplierNamesOf(job.suppliers),
    costs: {
      lines: costLinesOf(orderLists, job),
      total: { amount: minorToAmount(paidFor(problem, plan), currency), currency },
    },
    unsourced: sourcing.unsourced,
    comparisons,
    ...(beside ? { beside: besideIn(mix, bought, beside) } : {}),
    ...(isWorking ? { besideState: 'working' as const } : {}),
    ...(compared ? { buildOrBuy: buildOrBuyIn(job, compared) } : {}),
    ...(isComparing ? { buildOrBuyState: 'working' as const } : {}),
    timeLimited: timeLimitedIn(worked),
    notYetUsed: notYetUsed(job).filter(
      ({ field }) => field !== FOR_LOOMS || job.request.buildOrBuy === undefined,
    ),
    findings: [
      ...findings,
      ...sourcing.findings,
      ...(compared?.findings ?? []),
      ...orderChecks(mix, bought, values.priceAgeDays),
      ...standInChecks(mix, bought, values),
      ...unconfirmedChecks(job, unconfirmed),
      ...doubtedStandIns(job, bought),
      ...unsourcedChecks(job, looms, all, sourcing.unsourced),
    ].sort(byGravity),
    proof: proofOf(solved, {
      currency,
      scale: problem.scale,
      nuisance: shares.reduce((sum, share) => sum + chargedOf(share, 'nuisance'), 0n),
    }),
    cautions: cautionsOf(checked()),
  };
}

function timeLimitedIn({
  sourcing,
  isOpen = false,
  beside,
  isCut = false,
  compared,
}: Worked): Result['timeLimited'] {
  const { solved } = sourcing;
  return [
    ...(solved && !solved.proven ? (['purchases'] as const) : []),
    ...(solved?.tiesStopped ? (['ties'] as const) : []),
    ...(isOpen ? (['comparisons'] as const) : []),
    ...(beside && (isCut || beside.unfinished.some(({ why }) => why === 'time'))
      ? (['beside'] as const)
      : []),
    ...(compared?.combinations.some(({ state }) => state === 'notWorked' || state === 'bestSoFar')
      ? (['buildOrBuy'] as const)
      : []),
  ];
}

/** Circuits without the wires of looms that are bought made. */
function withoutWiresOf(
  circuits: readonly LoomCircuit[],
  replaced: ReadonlyMap<string, string>,
): LoomCircuit[] {
  if (replaced.size === 0) return [...circuits];
  return circuits.flatMap((circuit) => {
    const wires = circuit.wires.filter(({ loom }) => !replaced.has(loom));
    return wires.length > 0 ? [{ ...circuit, wires }] : [];
  });
}
