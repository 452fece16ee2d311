import { hashOf } from './model/canonical.ts';
import { Cancelled, type Control } from './model/control.ts';
import { byGravity } from './model/finding.ts';
import type { Job } from './model/job.ts';
import { RESULT_FORMAT, RESULT_VERSION, type Result } from './model/result.ts';
import { branchLine } from './loom/graph/branches.ts';
import { circuitLine } from './loom/graph/circuits.ts';
import { normaliseJob } from './job/normalise.ts';
import { orderOf } from './order.ts';
import { notYetUsed } from './job/usage.ts';
import { cautionsOf } from './quote/cautions.ts';
import { orderChecks } from './quote/orderChecks.ts';
import { unsourcedChecks } from './quote/unsourcedChecks.ts';
import { costLinesOf, orderListsOf } from './quote/orderLists.ts';
import { familiesOf, ratesOf, standInChecks } from './quote/terms.ts';
import { besideOf } from './beside/beside.ts';
import { besideIn } from './quote/beside.ts';
import { boughtIn } from './quote/purchases.ts';
import { comparisonsOf } from './quote/comparisons.ts';
import { cuttingPlansOf } from './quote/cuttingPlans.ts';
import { asBoughtFor } from './quote/boughtAs.ts';
import { fromStockOf } from './quote/fromStock.ts';
import { leftoversOf } from './quote/leftovers.ts';
import { chargedOf, paidFor, sharesOf } from './sourcing/pricing.ts';
import { proofOf } from './sourcing/proof.ts';
import { source } from './sourcing/source.ts';
import { minorToAmount } from './units/money.ts';

/**
 * A job in, its quote out: rolled up, bought at the least delivered cost, written out. Pointers in the result are into
 * the job as it was worked. Throws Cancelled when the control says so, and Stopped where the settings ask that what must be
 * mended first be mended first.
 */
export async function priceJob(given: Job, control: Control): Promise<Result> {
  const stopIfCancelled = () => {
    if (control.cancelled()) throw new Cancelled();
  };
  stopIfCancelled();
  const job = normaliseJob(given);
  const { currency } = job.club;
  control.report({ phase: 'rollUp', message: `Rolling up ${job.looms.length} looms.` });
  const { rolledUp, order, settings, values } = orderOf(job, control);
  const { looms, circuits, branches, requirements, leftOut, findings, checked } = rolledUp;
  stopIfCancelled();
  const sourcing = await source(job, order, values, control);
  stopIfCancelled();
  const { problem, plan, solved } = sourcing;
  const comparisons = await comparisonsOf(job, problem, plan, control);
  const beside = solved && (await besideOf(job, { ...solved, problem }, values.besideSeconds, control));
  stopIfCancelled();
  control.report({ phase: 'writing', message: 'Writing the quote.' });
  const shares = sharesOf(problem, plan);
  const mix = { job, market: order.market, problem, plan, sourced: sourcing.sourced, shares };
  const bought = boughtIn(mix);
  const orderLists = orderListsOf(mix, bought, values.thresholdMarginPercent);
  const fromStock = fromStockOf(mix);
  const all = [...requirements, ...sourcing.tools];
  return {
    format: RESULT_FORMAT,
    version: RESULT_VERSION,
    jobHash: hashOf(job),
    asOf: job.asOf,
    currency,
    looms: looms.map(({ loom, code, quantity, options, effective }) => ({
      loom: code,
      revision: loom.revision,
      name: loom.name,
      quantity,
      options,
      ...(loom.code === code ? {} : { madeAs: loom.code }),
      branches: branches.of(loom.code).map(branchLine),
      settings: effective,
    })),

    settings,
    circuits: circuits.all.map(circuitLine),
    requirements: asBoughtFor(all, mix, bought, fromStock),
    leftOut,
    families: familiesOf(sourcing),
    rates: ratesOf(mix),
    fromStock,
    purchases: bought.map(({ purchase }) => purchase),
    cuttingPlans: cuttingPlansOf(mix, solved?.proven === true),
    leftovers: leftoversOf(mix, bought, all),
    orderLists,
    costs: {
      lines: costLinesOf(orderLists, job),
      total: { amount: minorToAmount(paidFor(problem, plan), currency), currency },
    },
    unsourced: sourcing.unsourced,
    comparisons,
    ...(beside ? { beside: besideIn(mix, bought, beside) } : {}),
    notYetUsed: notYetUsed(job),
    findings: [
      ...findings,
      ...sourcing.findings,
      ...orderChecks(mix, bought, values.priceAgeDays),
      ...standInChecks(mix, bought, values),
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
