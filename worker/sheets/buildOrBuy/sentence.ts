import type { BuildOrBuy, Combination } from '../../engine/model/buildOrBuy.ts';
import type { Result } from '../../engine/model/result.ts';
import { counted } from '../amounts.ts';
import { without } from '../money.ts';
import { clipped } from '../names.ts';
import { allOf, hoursWords, isNegative, isPositive, loomNames, sizeOf, toldOf } from './words.ts';

/**
 * What the comparison comes to, in a sentence or a few: "Building saves 182.40 GBP and takes about 31 hours longer: 5.90 GBP an
 * hour; at your 12.00 GBP an hour buying is cheaper by 189.60 GBP." Then what is cheaper than both, what is not in the costs, and
 * what is not proven.
 */
export function buildOrBuySentence(result: Result): string {
  const known = result.buildOrBuy;
  if (!known) return '';
  return [plainOnes(known), bestMix(known, result), missing(known), proofWords(known)]
    .filter((words) => words !== '')
    .join(' ');
}

/** The same as it stands above the rest of the first page: in no more than six lines. */
export function leadingOf(result: Result): string {
  return clipped(buildOrBuySentence(result), MOST_LEADING);
}

const MOST_LEADING = 600;

/** All built against all bought made. */
function plainOnes(known: BuildOrBuy): string {
  const { allBuilt, allBought } = toldOf(known);
  const { hourWorth, againstAllBought: against } = known;
  if (!allBuilt?.cost || !allBuilt.total)
    return 'What building costs is not known: nothing that it needs is sourced.';
  const { currency } = allBuilt.cost;
  if (!allBought?.cost || !allBought.total || !against)
    return `Building costs ${allBuilt.cost.amount} ${currency} and takes ${hoursWords(allBuilt.minutes)}. ${noOther(known)}`;
  const { saving, minutes, hourWorth: meets } = against;
  const worth = `at your ${hourWorth.amount} ${currency} an hour`;
  const difference = without(allBought.total.amount, [allBuilt.total.amount], currency);
  const decided = !isPositive(hourWorth.amount)
    ? ''
    : isPositive(difference)
      ? `${worth} building is ${isPositive(saving.amount) ? 'still ' : ''}cheaper by ${difference} ${currency}`
      : isNegative(difference)
        ? `${worth} buying is cheaper by ${sizeOf(difference)} ${currency}`
        : `${worth} both cost the same`;
  const time =
    minutes > 0
      ? `takes ${hoursWords(minutes)} longer`
      : minutes < 0
        ? `takes ${hoursWords(-minutes)} less`
        : 'takes no longer';
  const end = (clause: string) => `${clause}${decided === '' ? '' : `; ${decided}`}.`;
  if (isNegative(saving.amount)) {
    const costs = `Building costs ${sizeOf(saving.amount)} ${currency} more and ${time}`;
    return minutes >= 0 ? end(`${costs}: buying is cheaper, whatever an hour is worth`) : end(costs);
  }
  if (!isPositive(saving.amount)) return end(`Building costs as much as buying and ${time}`);
  const rate = meets && minutes > 0 ? `: ${meets.amount} ${currency} an hour` : '';
  const free = isPositive(hourWorth.amount) || minutes <= 0 ? '' : ' Your hours are counted at 0.';
  return end(`Building saves ${saving.amount} ${currency} and ${time}${rate}`) + free;
}

/** Why there is nothing to set against building. */
function noOther({ madeUp, allBought, combinations, notWorked }: BuildOrBuy): string {
  if (madeUp.length === 0) return 'No made-up loom is entered, so there is nothing to compare it with.';
  if (madeUp.every(({ why }) => why !== undefined))
    return `No made-up loom can be bought instead: ${madeUp.map(({ part, why }) => clipped(`${part}: ${why ?? ''}`, 120)).join('; ')}.`;
  if (allBought !== undefined || notWorked) return 'What buying all looms made costs was not worked out.';
  const bought = new Set(combinations.flatMap((one) => one.bought.flatMap(({ looms }) => looms)));
  const [all = []] = combinations.map(({ built }) => built);
  const not = all.filter((loom) => !bought.has(loom));
  return not.length === 0
    ? 'All looms together cannot be bought made.'
    : `Not all looms can be bought made: there is no made-up loom to buy for ${allOf(not)}.`;
}

/** Where building some and buying some is cheapest. */
function bestMix(known: BuildOrBuy, result: Result): string {
  const { allBuilt, allBought, best, isMixed } = toldOf(known);
  if (!isMixed || !best?.total) return '';
  const nameOf = loomNames(result);
  const { amount, currency } = best.total;
  const made = allOf(best.bought.flatMap(({ looms }) => looms.map(nameOf)));
  const rest = best.built.length === 0 ? '' : ' and build the rest';
  const plain = [allBuilt?.total, allBought?.total].flatMap((total) => total?.amount ?? []);
  const [nearest] = [...plain].sort((a, b) => Number(a) - Number(b));
  const less = nearest === undefined ? '' : `, ${without(nearest, [amount], currency)} ${currency} less than`;
  const which = plain.length < 2 || nearest === allBuilt?.total?.amount ? ' building all' : ' buying all';
  return `Cheapest is to buy ${clipped(made, 120)} made${rest}: ${amount} ${currency}${isPositive(known.hourWorth.amount) ? ' with your hours' : ''}${less === '' ? '' : `${less}${which}`}.`;
}

/** Needs that are not in the costs, so that what is compared is not the same. */
function missing(known: BuildOrBuy): string {
  const { allBuilt, allBought, best, isMixed } = toldOf(known);
  const words = (one: Combination | undefined, name: string) => {
    const [needs, sold] = [one?.unsourced ?? 0, one?.leftOut ?? 0];
    const all = needs + sold;
    return all === 0 ? [] : [`${counted(all, 'need')} of ${name}`];
  };
  const all = [
    ...words(allBuilt, 'building all'),
    ...words(allBought, 'buying all'),
    ...(isMixed ? words(best, 'the cheapest') : []),
  ];
  return all.length === 0 ? '' : `Not in these costs: ${allOf(all)}.`;
}

function proofWords({ proven, bound, notWorked, combinations, best, hourWorth }: BuildOrBuy): string {
  if (proven) return '';
  const total = combinations[best]?.total;
  const under =
    total && Number(bound.amount) < Number(total.amount)
      ? `; no combination can have a total under ${bound.amount} ${hourWorth.currency}`
      : '';
  const left = notWorked
    ? `: ${counted(notWorked.combinations, 'combination')} ${notWorked.combinations === 1 ? 'was' : 'were'} not worked out`
    : '';
  return `Not proven${left}${under}.`;
}
