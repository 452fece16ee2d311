import type { Combination } from '../../engine/model/buildOrBuy.ts';
import type { Result } from '../../engine/model/result.ts';
import { counted } from '../amounts.ts';
import { clipped } from '../names.ts';
import { NO_COMPARISON } from './sections.ts';
import { combinationWords, hasDefaults, hoursWords, isPositive, toldOf } from './words.ts';

/** So many characters are two lines of the page, set in. */
const TWO_LINES = 200;

/** All built, all bought and the cheapest in a line or two each, and where they meet. */
export function buildOrBuyLines(result: Result): string[] {
  const { buildOrBuy: known, buildOrBuyState } = result;
  if (!known) return buildOrBuyState === undefined ? [] : [NO_COMPARISON[buildOrBuyState]];
  const { allBuilt, allBought, best, isMixed } = toldOf(known);
  const line = (name: string, one: Combination) => {
    const { cost, minutes, labour, total } = one;
    const worth = isPositive(labour.amount) && total ? `; with labour ${total.amount}` : '';
    const lead = one.leadDays === undefined ? '' : `; there in ${counted(one.leadDays, 'day')}`;
    return cost ? [`${name}: ${cost.amount} ${cost.currency}, ${hoursWords(minutes)}${worth}${lead}`] : [];
  };
  const meets = known.againstAllBought?.hourWorth;
  return [
    ...(allBuilt ? line('All built', allBuilt) : []),
    ...(allBought ? line('All bought made', allBought) : []),
    ...(isMixed && best ? line(clipped(combinationWords(best), 110), best) : []),
    ...(meets
      ? [`At ${meets.amount} ${meets.currency} an hour all built and all bought cost the same.`]
      : []),
    ...(hasDefaults(known)
      ? [
          'The hours come from default minutes, from memory, no source. Put your own in the setting labourMinutes.',
        ]
      : []),
  ].map((words) => clipped(words, TWO_LINES));
}
