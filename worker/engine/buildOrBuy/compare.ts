import { askedLooms } from '../loom/asked.ts';
import { marketOf } from '../job/market.ts';
import { quoteSettings } from '../job/settings.ts';
import { Cancelled, within, type Control } from '../model/control.ts';
import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { LIMITS } from '../model/limits.ts';
import { orderWith, type Ordered } from '../order.ts';
import { source, type Sourcing } from '../sourcing/source.ts';
import { compareFractions, fraction, minus, sumOf, type Fraction } from '../units/fraction.ts';
import { amountFaults } from './amountFaults.ts';
import { allBought, combinationsOf, countCombinations, goTogether, type Bought } from './combinations.ts';
import { countedFor, type Counted } from './counted.ts';
import { madeUpLooms, type MadeUpLoom } from './madeUpLooms.ts';
import {
  boundOf,
  foundIn,
  isNotBelow,
  leastTotal,
  stateOf,
  underFor,
  type Fixed,
  type Found,
  type Priced,
} from './priced.ts';

/** All that is known of building the looms of a request or buying them made. */
export interface Compared {
  counted: Counted;
  madeUp: readonly MadeUpLoom[];
  /** In the order in which they were looked at: all built first. */
  combinations: readonly Priced[];
  best: Priced;
  allBuilt: Priced;
  allBought: Priced | undefined;
  /** No combination has a lower total. */
  bound: Fraction;
  proven: boolean;
  /** Not worked out at all, beside those in the list. */
  more: number;
  findings: readonly Finding[];
}

/**
 * Builds or buys each loom of a normalised job: the combination of the least total is the least delivered cost of all that
 * it needs, bought as one order, with tools and consumables counted as the request says, and its labour at the worth of an
 * hour. A combination is a job of its own: postage, minimum orders, customs, tools and shared packs count once. One whose
 * lower bound is not below the best total is not worked to its end (branch and bound over the combinations); those likely to
 * be cheap come first. `quoted`: all built, where that is known. Throws Cancelled.
 */
export async function compareLooms(
  job: Job,
  control: Control,
  quoted?: { ordered: Ordered; sourcing: Sourcing },
): Promise<Compared> {
  const values = quoteSettings(job);
  const all = within(control, values.buildOrBuySeconds.value * 1000);
  const market = marketOf(job);
  const names = askedLooms(job).map(({ loom }) => loom.code);
  const { madeUp, findings } = madeUpLooms(job, market);
  const usable = madeUp.filter(({ why }) => why === undefined);
  const counted = countedFor(job);
  const priced = new Map<Bought, Priced>();

  async function price(bought: Bought, limit: Fraction | undefined): Promise<Priced> {
    if (all.cancelled()) throw new Cancelled();
    const replaced = new Set(bought.flatMap(({ looms }) => looms));
    const built = names.filter((name) => !replaced.has(name));
    const fixed = counted.fixed(built);
    const { minutes, labour } = fixed;
    const before = { bought, built, minutes, labour };
    const least = leastTotal(fraction(0n), fixed);
    if (limit && isNotBelow(least, limit)) return { ...before, state: 'ruledOut', bound: least };
    const isQuoted = quoted !== undefined && bought.length === 0;
    if (!isQuoted && all.remainingMs() <= 0) return { ...before, state: 'notWorked', bound: least };
    all.report({
      phase: 'buildOrBuy',
      message: `Build or buy: combination ${priced.size + 1}, ${built.length} built and ${bought.length} made-up bought.`,
    });
    const ordered = isQuoted ? quoted.ordered : orderWith(job, all, bought, market);
    const sourcing = isQuoted
      ? quoted.sourcing
      : await source(job, ordered.order, ordered.values, within(all, values.solverSeconds.value * 1000), {
          ties: false,
          under: (problem) => limit && underFor(limit, fixed, problem),
        });
    return { ...before, ...judged(job, { ordered, sourcing, bought, fixed, counted, limit }) };
  }
  const look = async (bought: Bought, limit: Fraction | undefined): Promise<Priced> => {
    const one = await price(bought, limit);
    priced.set(bought, one);
    return one;
  };

  const every = combinationsOf(usable, LIMITS.combinations);
  const allBuilt = await look(every?.[0] ?? [], undefined);
  let best = allBuilt;
  const take = (one: Priced) => {
    if (isBetter(one, best)) best = one;
  };
  const limit = () => limitOf(best);
  let whole: Priced | undefined;
  const wholes = every
    ? every.filter((bought) => bought.flatMap(({ looms }) => looms).length === names.length)
    : allBought(usable, names, MOST_WHOLE);
  for (const bought of wholes) {
    const one = await look(bought, whole && limitOf(whole));
    if (!one.mix || one.state === 'impossible' || one.state === 'notWorked') continue;
    if (!whole || isBetter(one, whole)) whole = one;
    take(one);
  }
  const others = (every ?? usable.map((one) => [one])).filter((bought) => !priced.has(bought));
  const singles = others.filter((bought) => bought.length === 1);
  for (const bought of singles) take(await look(bought, limit()));
  const gain = new Map<MadeUpLoom, Fraction>();
  for (const [[only, ...more], one] of priced)
    if (only && more.length === 0) gain.set(only, minus(one.mix?.total ?? one.bound, totalOf(allBuilt)));
  if (every) {
    const estimate = (bought: Bought) => sumOf(bought.map((one) => gain.get(one) ?? fraction(0n)));
    const rest = others
      .filter((bought) => bought.length > 1)
      .map((bought) => ({ bought, by: estimate(bought) }))
      .sort((a, b) => compareFractions(a.by, b.by));
    for (const { bought } of rest) take(await look(bought, limit()));
  } else {
    // Those that save by themselves, the most first, each kept where it still saves.
    let kept: Bought = [];
    for (const one of [...gain.keys()].sort((a, b) => compareFractions(gain.get(a)!, gain.get(b)!))) {
      if (!goTogether(kept, one)) continue;
      const bought = [...kept, one];
      if (bought.length > 1) take(await look(bought, limit()));
      if (
        best.bought === bought ||
        (bought.length === 1 && best.bought[0] === one && best.bought.length === 1)
      )
        kept = bought;
    }
  }
  const combinations = [...priced.values()];
  const more = every ? 0 : Math.max(0, countCombinations(usable) - combinations.length);
  const bounds = combinations
    .filter((one) => one.state !== 'impossible' && !isWorseOff(one, best))
    .map(({ bound }) => bound);
  const bound = [...bounds, totalOf(best), ...(more > 0 ? [fraction(0n)] : [])].reduce((least, each) =>
    compareFractions(each, least) < 0 ? each : least,
  );
  return {
    ...{ counted, madeUp, combinations, best, allBuilt, allBought: whole, bound, more },
    proven: isNotBelow(bound, totalOf(best)),
    findings: [
      ...findings,
      ...amountFaults(job, allBuilt.mix?.tools ?? []),
      ...remarks(combinations, best, more),
    ],
  };
}

/** Where there are too many combinations: so many ways to buy all looms are looked at. */
const MOST_WHOLE = 8;

/** What was found of a combination, and how sure it is. */
export function judged(
  job: Job,
  {
    ordered,
    sourcing,
    bought,
    fixed,
    counted,
    limit,
  }: {
    ordered: Ordered;
    sourcing: Sourcing;
    bought: Bought;
    fixed: Fixed;
    counted: Counted;
    limit: Fraction | undefined;
  },
): Pick<Priced, 'state' | 'bound' | 'mix'> {
  const mix: Found = foundIn(job, ordered, sourcing, fixed, (...mix) => counted.tools(...mix));
  const bound = boundOf(sourcing.solved, mix, fixed);
  return { state: stateOf(mix, bought, bound, limit), bound, mix };
}

function totalOf({ mix, bound }: Priced): Fraction {
  return mix?.total ?? bound;
}

/** No total from here on is of interest; nothing yet, where the best leaves out what another may have. */
function limitOf(best: Priced): Fraction | undefined {
  return best.mix && best.mix.without + best.mix.leftOut === 0 ? best.mix.total : undefined;
}

/** Fewest suppliers left out who are insisted on, then fewest needs that are sold and not bought, then the least total. */
function isBetter(one: Priced, than: Priced): boolean {
  if (!one.mix || one.state === 'impossible' || one.state === 'notWorked') return false;
  if (!than.mix) return true;
  const undone = one.mix.without - than.mix.without || one.mix.leftOut - than.mix.leftOut;
  return undone < 0 || (undone === 0 && compareFractions(one.mix.total, than.mix.total) < 0);
}

/** It is known to leave more undone. */
function isWorseOff({ state, mix }: Priced, best: Priced): boolean {
  if (state !== 'proven' || !mix || !best.mix) return false;
  return (mix.without - best.mix.without || mix.leftOut - best.mix.leftOut) > 0;
}

function remarks(combinations: readonly Priced[], best: Priced, more: number): Finding[] {
  const about = { at: '/request/buildOrBuy', where: 'build or buy' };
  const late = combinations.filter(({ state }) => state === 'notWorked').length;
  const incomplete = best.mix?.unsourced ?? 0;
  return [
    ...(more > 0
      ? [
          {
            ...about,
            code: 'too-many-combinations',
            severity: 'note' as const,
            found: `there are more combinations of looms that are built and bought made than ${LIMITS.combinations}; ${combinations.length} were worked out`,
            todo: 'All built, all bought, each made-up loom by itself, and those that save together were compared. Ask for fewer looms at a time, or leave out made-up looms that you would not buy.',
          },
        ]
      : []),
    ...(late > 0
      ? [
          {
            ...about,
            code: 'build-or-buy-unfinished',
            severity: 'note' as const,
            found: `the time ran out before ${late} of ${combinations.length} combinations were worked out`,
            todo: 'Give it more time: the setting buildOrBuySeconds.',
          },
        ]
      : []),
    ...(incomplete > 0
      ? [
          {
            ...about,
            code: 'build-or-buy-incomplete',
            severity: 'warning' as const,
            found: `the cheapest combination leaves out ${incomplete} need${incomplete === 1 ? '' : 's'} that no offer meets`,
            todo: 'Its total is too low by what these cost. Enter offers for them, then compare again.',
          },
        ]
      : []),
  ];
}
