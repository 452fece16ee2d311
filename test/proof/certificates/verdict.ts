import type { Certificate } from '../../../worker/engine/sourcing/search/certificate.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { fractionOf, reaches, type Fraction } from './fraction.ts';
import type { Recomputation, Recomputed } from './recomputed.ts';

/** By how much a bound may fall short of what is claimed, minor units: the search works in floating point. */
const NOISE: Fraction = { over: 1n, under: 1_000_000n };
/** Costs nearer than this are one to the search, minor units. */
const FINEST: Fraction = { over: 2n, under: 100_000n };
const NONE: Fraction = { over: 0n, under: 1n };
const EXACT_PER_MINOR = 10n ** 7n;

/** Why a certificate does not hold, in words; undefined where it does. `cost`: of the cheapest mix, in the problem's scale. */
export function wrongWith(
  problem: Problem,
  recomputation: Recomputation,
  certificate: Certificate,
  cost: bigint,
): string | undefined {
  const { closes, limit } = certificate;
  if (!isWithin(certificate)) return `closes ${closes.what}, which its ground does not have`;
  if (!isHighEnough(problem, limit, cost)) return `a limit of ${limit} under the least cost`;
  const found = boundOf(recomputation, certificate);
  if (typeof found === 'string') return found;
  const { bound, parts } = found;
  if (bound === undefined) return undefined;
  const known = { over: bound, under: parts };
  if (!isReached(known, certificate.bound)) return `a bound of ${certificate.bound} for ${numberOf(known)}`;
  if (closes.what === 'choices') {
    const open = closes.choices.find((choice) => {
      const { requirement, least } = recomputation.withChoice(choice, certificate);
      if (least === undefined) return false;
      return !isReached({ over: bound - (found.prices[requirement] ?? 0n) + least, under: parts }, limit);
    });
    return open === undefined
      ? undefined
      : `choice ${open} left out that may be in a mix under the limit of ${limit}`;
  }
  if (closes.what !== 'plans')
    return isReached(known, limit) ? undefined : `a bound of ${numberOf(known)} under the limit of ${limit}`;
  const low = found.prices.findIndex((least, requirement) => {
    const most = closes.most[requirement];
    if (most === undefined) return false;
    const left = fractionOf(most);
    const others = bound - (least ?? 0n);
    return !isReached({ over: left.over * parts + others * left.under, under: left.under * parts }, limit);
  });
  return low < 0
    ? undefined
    : `plans left out of requirement ${low} that may be in a mix under the limit of ${limit}`;
}

/** What is closed is a part of the ground that the bound is for. */
function isWithin({ closes, ground }: Certificate): boolean {
  if (closes.what !== 'unused' && closes.what !== 'parcel') return true;
  const own = ground[closes.supplier];
  if (closes.what === 'unused') return own?.must === false;
  return own?.open.some((bands) => bands.join() === closes.bands.join()) === true;
}

function boundOf(recomputation: Recomputation, certificate: Certificate): Recomputed | string {
  try {
    return recomputation.bound(certificate);
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

function isReached(known: Fraction, claimed: number): boolean {
  return Number.isFinite(claimed) && reaches(known, fractionOf(claimed), NOISE);
}

/** Nothing that costs a grain less than the cheapest mix was left out of the search. */
function isHighEnough(problem: Problem, limit: number, cost: bigint): boolean {
  if (!Number.isFinite(limit)) return limit > 0;
  const per = problem.scale * EXACT_PER_MINOR;
  const grain = { over: grainOf(problem), under: per };
  const less = reaches(grain, FINEST, NONE) ? grain : FINEST;
  return reaches(fractionOf(limit), { over: cost, under: per }, less);
}

/** What all costs are whole multiples of. */
function grainOf({ choices, suppliers }: Problem): bigint {
  let grain = 0n;
  for (const [supplier, { bands }] of suppliers.entries())
    for (const { charge, rate } of bands) {
      grain = divisor(grain, charge);
      for (const choice of choices)
        if (choice.supplier === supplier)
          for (const { price } of choice.tiers) grain = divisor(grain, price * rate);
    }
  return grain || 1n;
}

function divisor(a: bigint, b: bigint): bigint {
  return b === 0n ? a : divisor(b, a % b);
}

function numberOf({ over, under }: Fraction): number {
  return Number((over * 1_000_000n) / under) / 1_000_000;
}
