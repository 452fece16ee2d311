import type { BuildOrBuy, Combination } from '../../engine/model/buildOrBuy.ts';
import { hourLines, type HourLine } from '../pictures/hourLines.ts';
import type { Picture } from '../pictures/picture.ts';
import { toldOf } from './words.ts';

/**
 * Cost against the worth of an hour: all built, all bought, and the cheapest combination where it is neither. Undefined where there
 * is only one line to draw.
 */
export function hourPicture(known: BuildOrBuy): Picture | undefined {
  const { allBuilt, allBought, best, isMixed } = toldOf(known);
  const lines = [
    ...lineOf('All built', allBuilt),
    ...lineOf('All bought', allBought),
    ...lineOf('The cheapest', isMixed ? best : undefined),
  ];
  if (lines.length < 2) return undefined;
  const meeting = allBuilt?.cost && allBought?.cost ? known.againstAllBought?.hourWorth : undefined;
  return hourLines({
    lines,
    currency: known.hourWorth.currency,
    hourWorth: known.hourWorth.amount,
    ...(meeting ? { meetAt: meeting.amount } : {}),
  });
}

function lineOf(name: string, combination: Combination | undefined): HourLine[] {
  return combination?.cost ? [{ name, cost: combination.cost.amount, minutes: combination.minutes }] : [];
}
