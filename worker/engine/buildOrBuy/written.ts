import type { BuildOrBuy, Combination } from '../model/buildOrBuy.ts';
import type { Job } from '../model/job.ts';
import { paidFor } from '../sourcing/problem/pricing.ts';
import { compareFractions, fraction, over, roundOf, times, type Fraction } from '../units/fraction.ts';
import { minorToAmount } from '../units/money.ts';
import type { Compared } from './compare.ts';
import { decimalsOf } from './decimals.ts';
import type { Priced } from './priced.ts';

/** The comparison as the result states it. Printed amounts are rounded once each, and sums are of these. */
export function buildOrBuyIn(job: Job, compared: Compared): BuildOrBuy {
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const exact = (minor: Fraction) => ({ amount: decimalsOf(minor, currency), currency });
  const { counted, allBuilt, allBought, best, madeUp, more } = compared;
  const listed = inOrder(compared);
  const rows = new Map(listed.map((one) => [one, rowOf(one)]));
  const placeOf = (one: Priced) => listed.indexOf(one);
  const notWorked = listed.filter(({ state }) => state === 'notWorked').length;

  function rowOf(one: Priced): { row: Combination; cost: bigint | undefined } {
    const { bought, built, state, minutes, mix } = one;
    const labour = roundOf(one.labour);
    const found = state === 'impossible' || state === 'notWorked' ? undefined : mix;
    const tools = (found?.tools ?? []).map((tool) => ({
      ...tool,
      paid: roundOf(tool.paid),
      counted: roundOf(tool.counted),
    }));
    const delivered = found && paidFor(found.sourcing.problem, found.sourcing.plan);
    const cost =
      delivered === undefined
        ? undefined
        : tools.reduce((sum, { paid, counted, isExtra }) => sum + counted - (isExtra ? 0n : paid), delivered);
    const row: Combination = {
      built: [...built],
      bought: bought.map(({ part, looms, byWave }) => ({
        part,
        looms: [...looms],
        quantity: byWave.at(-1) ?? 0,
      })),
      state,
      ...(delivered === undefined ? {} : { delivered: money(delivered) }),
      tools: tools.map(({ part, label, paid, counted }) => ({
        ...(part === undefined ? {} : { part }),
        label,
        paid: money(paid),
        counted: money(counted),
      })),
      ...(cost === undefined ? {} : { cost: money(cost) }),
      minutes: minutesOf(minutes),
      labour: money(labour),
      ...(cost === undefined ? {} : { total: money(cost + labour) }),
      bound: exact(one.bound),
      ...(found?.leadDays === undefined ? {} : { leadDays: found.leadDays }),
      ...(found && found.leadUnknown > 0 ? { leadUnknown: found.leadUnknown } : {}),
      ...(found && found.unsourced > 0 ? { unsourced: found.unsourced } : {}),
      ...(found && found.leftOut > 0 ? { leftOut: found.leftOut } : {}),
    };
    return { row, cost };
  }

  /** All built against another. */
  function meeting(other: Priced): BuildOrBuy['againstBest'] {
    const [own, its] = [rows.get(allBuilt)?.cost, rows.get(other)?.cost];
    if (own === undefined || its === undefined) return undefined;
    const saving = its - own;
    const longer = minutesOf(allBuilt.minutes) - minutesOf(other.minutes);
    const hundredths = Math.round(longer * 100);
    return {
      saving: money(saving),
      minutes: hundredths / 100,
      ...(saving >= 0n && hundredths > 0
        ? {
            hourWorth: money(
              roundOf(times(fraction(saving), over(fraction(6000n), fraction(BigInt(hundredths))))),
            ),
          }
        : {}),
    };
  }

  const againstAllBought = allBought && allBought !== allBuilt ? meeting(allBought) : undefined;
  const againstBest = best === allBuilt || best === allBought ? undefined : meeting(best);
  return {
    order: job.request.buildOrBuy?.order ?? 'build',
    hourWorth: money(roundOf(counted.hourWorth)),
    labour: [...counted.labour],
    madeUp: madeUp.map(({ part, label, looms, byWave, why }) => ({
      part,
      label,
      looms,
      quantity: byWave.at(-1) ?? 0,
      ...(why === undefined ? {} : { why }),
    })),
    combinations: listed.map((one) => rows.get(one)!.row),
    best: placeOf(best),
    allBuilt: placeOf(allBuilt),
    ...(allBought ? { allBought: placeOf(allBought) } : {}),
    proven: compared.proven,
    bound: exact(compared.bound),
    ...(more + notWorked > 0
      ? {
          notWorked: {
            combinations: more + notWorked,
            why: more > 0 ? ('number' as const) : ('time' as const),
          },
        }
      : {}),
    ...(againstAllBought ? { againstAllBought } : {}),
    ...(againstBest ? { againstBest } : {}),
    leftOut: [...LEFT_OUT],
  };
}

/** What a sum of money and hours does not say. */
const LEFT_OUT = [
  'what you learn by building it',
  'the risk of a fault in your own work, and of a bought loom that does not fit',
  'a warranty, if the supplier gives one',
  'the old loom, which you need as a pattern until the new one works',
] as const;

/** All built, all bought, then the others: the lowest total first, then what has none, the lowest bound first. */
function inOrder({ combinations, allBuilt, allBought }: Compared): Priced[] {
  const first = [allBuilt, ...(allBought && allBought !== allBuilt ? [allBought] : [])];
  const rank = ({ state, mix }: Priced) =>
    state === 'impossible' ? 2 : state === 'notWorked' || !mix ? 1 : 0;
  const others = combinations
    .filter((one) => !first.includes(one))
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        compareFractions(rank(a) === 0 ? a.mix!.total : a.bound, rank(b) === 0 ? b.mix!.total : b.bound),
    );
  return [...first, ...others];
}

function minutesOf(minutes: Fraction): number {
  return Number(roundOf(times(minutes, fraction(100n)))) / 100;
}
