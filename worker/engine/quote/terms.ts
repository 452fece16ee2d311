import { pointer, type Finding } from '../model/finding.ts';
import type { Result } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import { laneCurrencies } from '../job/lanes.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { dayNumber } from '../units/day.ts';
import { differingFigures } from './differingFigures.ts';
import type { Bought, Mix } from './purchases.ts';
import type { StandInUsed } from './standInsUsed.ts';

/** Families for which others could stand in, with the one that is bought. */
export function familiesOf({ problem, plan, options }: Sourcing): Result['families'] {
  return problem.groups.flatMap((group) => {
    const chosen = group.find((option) => plan.options.includes(option));
    const option = chosen === undefined ? undefined : options[chosen];
    return option ? [{ needed: option.of, bought: option.family }] : [];
  });
}

/** The rates of exchange that the costs of a mix go by. */
export function ratesOf({ job, market, problem, shares }: Mix): Result['rates'] {
  const bought = new Set(shares.map(({ supplier }) => problem.suppliers[supplier]?.code));
  const currencies = new Set(
    job.suppliers
      .filter(({ code }) => bought.has(code))
      .flatMap((supplier) => {
        const customs = market.customsOf(supplier);
        return [supplier.currency, ...(customs.kind === 'none' ? [] : laneCurrencies(customs.lane))];
      }),
  );
  return [...currencies].sort().flatMap((currency) => {
    const rate = market.exchange.rateOf(currency);
    return rate ? [{ currency, rate: rate.rate, on: rate.on }] : [];
  });
}

/** What is to be looked at in the terms before an order is sent: stand-ins, old rates, lead times that are not known. */
export function standInChecks(
  mix: Mix,
  bought: readonly Bought[],
  { rateAgeDays }: SettingValues,
): Finding[] {
  return [...standIns(mix, bought), ...oldRates(mix, rateAgeDays), ...leadsUnknown(mix, bought)];
}

function standIns({ job, sourced }: Mix, bought: readonly Bought[]): Finding[] {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const servedBy = new Map(sourced.map(({ rolledUp: { id, servedBy: own } }) => [id, own]));
  const differing = ({ part, requirement }: StandInUsed) => {
    const [other, named] = [parts.get(part), parts.get(servedBy.get(requirement)?.[0] ?? '')];
    const figures = other && named ? differingFigures(other, named) : [];
    return figures.length === 0 ? '' : `; differs in: ${figures.join('; ')}`;
  };
  return bought.flatMap(({ purchase, standIns: used }) =>
    used.map((one): Finding => {
      const { part, insteadOf, standIn } = one;
      return {
        code: 'bought-in-place',
        severity: 'note',
        at: pointer(['parts', job.parts.findIndex(({ code }) => code === part)]),
        where: `offer ${purchase.offer} of ${purchase.supplier}`,
        found: `${part} is bought instead of ${insteadOf}, ${standIn.status}${standIn.by === undefined ? '' : ` by ${standIn.by}`}${differing(one)}`,
        todo: 'It passes the checks at its places, by the figures that are stated. Cut lengths are calculated with the part that the loom names, so compare the strip lengths. To buy only the parts that are named, set standInsAccepted to an empty list.',
      };
    }),
  );
}

function oldRates(mix: Mix, rateAgeDays: number): Finding[] {
  const { job } = mix;
  return ratesOf(mix).flatMap(({ currency, on }): Finding[] => {
    const age = dayNumber(job.asOf) - dayNumber(on);
    if (age <= rateAgeDays) return [];
    return [
      {
        code: 'rate-may-be-old',
        severity: 'warning',
        at: pointer(['rates', job.rates.findIndex((rate) => rate.currency === currency && rate.on === on)]),
        where: `rate of ${currency}`,
        found: `of ${on}, ${age} days ago`,
        limit: `at most ${rateAgeDays} days (the setting rateAgeDays)`,
        todo: 'Enter today’s rate before you order.',
      },
    ];
  });
}

function leadsUnknown({ job, market }: Mix, bought: readonly Bought[]): Finding[] {
  const { neededBy } = job.request;
  if (neededBy === undefined) return [];
  const leads = new Map(market.listings.map(({ offer, leadDays }) => [offer, leadDays]));
  return bought.flatMap(({ offer, purchase }): Finding[] => {
    if ((purchase.wave ?? 1) > 1 || leads.get(offer) !== undefined) return [];
    return [
      {
        code: 'lead-time-not-known',
        severity: 'note',
        at: pointer(['offers', job.offers.indexOf(offer)]),
        where: `offer ${offer.code} of ${offer.supplier}`,
        found: 'neither the offer nor its supplier states lead days',
        limit: `delivery by ${neededBy}`,
        todo: 'Ask the supplier before you order, and enter the lead days.',
      },
    ];
  });
}
