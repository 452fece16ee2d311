import type { Job } from '../model/job.ts';
import { offerCurrency, type Offer } from '../model/offer.ts';
import type { AtPrice, WinningPrice } from '../model/winningPrice.ts';
import { paidFor } from '../sourcing/problem/pricing.ts';
import type { Problem } from '../sourcing/problem/problem.ts';
import { D } from '../units/decimal.ts';
import { exactToAmount, minorToAmount, type Exact } from '../units/money.ts';
import { boughtOf } from './bought.ts';
import { firstPrice, offerAt, pricesOf } from './offerPrices.ts';
import type { Found } from './search.ts';
import type { Trial, Trials } from './trial.ts';

interface Searched {
  job: Job;
  problem: Problem;
  offer: Offer;
  trials: Trials;
  found: Found;
  isSettled: boolean;
}

/** What was found, as it is told. */
export function answerOf(
  searched: Searched,
): Pick<WinningPrice, 'outcome' | 'at' | 'losesAt' | 'without' | 'proof'> {
  const { job, problem, offer, trials, found } = searched;
  const { currency } = job.club;
  const cost = (exact: Exact) => ({ amount: exactToAmount(exact, currency, problem.scale), currency });
  const { outcome, at, loses } = found;
  const { plan, cost: least } = trials.without;
  const theirs = offerCurrency(offer);
  return {
    outcome,
    ...(at?.plan ? { at: atPrice(searched, at) } : {}),
    ...(loses && outcome !== 'never'
      ? {
          losesAt: {
            first: { amount: exactToAmount(loses.price, theirs), currency: theirs },
            ...(loses.plan ? { cost: cost(loses.cost) } : {}),
          },
        }
      : {}),
    without: {
      total: { amount: minorToAmount(paidFor(problem, plan), currency), currency },
      cost: cost(least),
      unsourced: at?.plan ? Math.max(0, plan.unmet.length - at.plan.unmet.length) : 0,
    },
    proof: proofOf(searched),
  };
}

function atPrice({ job, offer }: Searched, { price, problem, plan, cost }: Trial): AtPrice {
  const { currency } = job.club;
  const units = plan ? boughtOf(problem, offer.code, plan) : [];
  const waves = problem.suppliers.some(({ wave }) => wave > 1);
  return {
    prices: pricesOf(offerAt(offer, price)),
    changePercent: changePercent(firstPrice(offer), price),
    buys: units.map(({ choice, units: bought }) => ({
      ...(waves ? { wave: choice.wave } : {}),
      ...(offer.form === 'metre' ? { lengthMm: bought * offer.stepMm } : { packs: bought }),
    })),
    total: { amount: minorToAmount(plan ? paidFor(problem, plan) : 0n, currency), currency },
    cost: { amount: exactToAmount(cost, currency, problem.scale), currency },
  };
}

/** Down to four decimals: a fall of so much is enough, and a rise of so much is not too much. */
function changePercent(stated: Exact, price: Exact): number {
  if (stated === 0n) return 0;
  const change = new D((price - stated).toString()).mul(100).div(stated.toString());
  return change.toDecimalPlaces(4, D.ROUND_FLOOR).toNumber();
}

function proofOf({ trials, found, isSettled }: Searched): WinningPrice['proof'] {
  const { outcome, at, loses, tried, isDone } = found;
  const isProven = isDone && tried.every(({ sure }) => sure) && (outcome === 'never' || at?.isLeast === true);
  const stopped = [trials.without, ...tried].find(({ stoppedBy }) => stoppedBy)?.stoppedBy;
  const stoppedBy = stopped ?? (isDone ? undefined : 'time');
  const settled = outcome === 'always' || (isSettled && (outcome === 'never' || loses !== undefined));
  return {
    status: isProven ? 'proven' : 'notProven',
    ...(isProven || !stoppedBy ? {} : { stoppedBy }),
    elsewhere: settled ? 'settled' : 'notLooked',
    solved: trials.solved(),
  };
}
