import { normaliseJob } from '../job/normalise.ts';
import { compareLooms } from '../buildOrBuy/compare.ts';
import { orderOf, orderWith } from '../order.ts';
import { hashOf } from '../model/canonical.ts';
import { Cancelled, type Control } from '../model/control.ts';
import type { Job } from '../model/job.ts';
import { OfferNotUsable } from '../model/notUsable.ts';
import { offerCurrency, type Offer } from '../model/offer.ts';
import { WINNING_PRICE_FORMAT, WINNING_PRICE_VERSION, type WinningPrice } from '../model/winningPrice.ts';
import { compile } from '../sourcing/compile/compile.ts';
import type { Problem } from '../sourcing/problem/problem.ts';
import { exactToAmount } from '../units/money.ts';
import { answerOf } from './answer.ts';
import { choicesOf } from './bought.ts';
import { neverFalls } from './monotone.ts';
import { firstPrice, pricesOf } from './offerPrices.ts';
import { searched } from './search.ts';
import { trialsOf } from './trial.ts';
import { offerNotNeeded, unknownOffer, whyNotUsable } from './whyNotUsable.ts';

/**
 * The price at which one offer of a job is bought, all its prices changed in the same proportion and all else as it is:
 * how far a losing offer must fall, or how far one that is bought may rise. What is claimed is that a cheapest mix buys
 * some of it at that price, and none does at the next price above.
 * Throws Cancelled; OfferNotUsable where the offer cannot be bought at any price; Stopped as priceJob does.
 */
export async function winningPrice(given: Job, offerCode: string, control: Control): Promise<WinningPrice> {
  if (control.cancelled()) throw new Cancelled();
  if (!given.offers.some(({ code }) => code === offerCode)) throw new OfferNotUsable(unknownOffer(offerCode));
  const job = normaliseJob(given);
  const offer = job.offers.find(({ code }) => code === offerCode);
  if (!offer) throw new OfferNotUsable(offerNotNeeded(given, offerCode));
  const problem = await problemOf(job, offer, control);
  const currency = offerCurrency(offer);
  const suppliers = new Set(choicesOf(problem, offerCode).map((at) => problem.choices[at]?.supplier ?? 0));
  const isSettled = [...suppliers].every((at) => neverFalls(problem.suppliers[at]?.bands ?? []));
  control.report({
    phase: 'sourcing',
    message: `Searching for the cheapest mix without offer ${offerCode}.`,
  });
  const trials = await trialsOf(problem, offer, control);
  const found = await searched({
    trials,
    offer: offerCode,
    stated: firstPrice(offer),
    isSettled,
    control,
    onTry: (price) =>
      control.report({
        phase: 'sourcing',
        message: `Trying offer ${offerCode} at ${exactToAmount(price, currency)} ${currency}; ${trials.solved()} searches done.`,
      }),
  });
  const name = job.suppliers.find(({ code }) => code === offer.supplier)?.name;
  return {
    format: WINNING_PRICE_FORMAT,
    version: WINNING_PRICE_VERSION,
    jobHash: hashOf(job),
    asOf: job.asOf,
    offer: offerCode,
    supplier: offer.supplier,
    ...(name === undefined ? {} : { supplierName: name }),
    form: offer.form,
    stated: pricesOf(offer),
    ...answerOf({ job, problem, offer, trials, found, isSettled }),
  };
}

/**
 * What is to be bought, with the offer among what it can be bought from. Where the quote is for the cheapest combination of built
 * and bought looms, it is what that needs at the prices as they are.
 */
async function problemOf(job: Job, offer: Offer, control: Control): Promise<Problem> {
  control.report({ phase: 'rollUp', message: `Rolling up ${job.looms.length} looms.` });
  let ordered = orderOf(job, control);
  if (job.request.buildOrBuy?.order === 'cheapest')
    ordered = orderWith(job, control, (await compareLooms(job, control)).best.bought);
  const { order, values } = ordered;
  const { problem, findings: ofOffers } = compile(job, order, values);
  if (choicesOf(problem, offer.code).length === 0)
    throw new OfferNotUsable(whyNotUsable(job, offer.code, ofOffers));
  return problem;
}
