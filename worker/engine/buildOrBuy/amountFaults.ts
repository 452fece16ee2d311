import { exchangeOf } from '../model/exchange.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Money } from '../model/money.ts';
import { compareFractions } from '../units/fraction.ts';
import { inClub, type ToolCost } from './toolCosts.ts';

/** Amounts of the request that cannot be counted as they are entered. `tools`: what was paid for tools of the catalogue. */
export function amountFaults(job: Job, tools: readonly ToolCost[]): Finding[] {
  return [...withoutRate(job), ...soldAboveCost(job, tools)];
}

/** Amounts in currencies that have no rate on the day. */
function withoutRate(job: Job): Finding[] {
  const { hourWorth, extras = [], tools = [] } = job.request.buildOrBuy ?? {};
  const exchange = exchangeOf(job);
  const amounts: [path: PropertyKey[], where: string, money: Money | undefined][] = [
    [['hourWorth'], 'hourWorth', hourWorth],
    ...extras.flatMap(({ description, cost, sellsFor }, index): typeof amounts => [
      [['extras', index, 'cost'], `the cost of ${description}`, cost],
      [['extras', index, 'sellsFor'], `what ${description} sells for`, sellsFor],
    ]),
    ...tools.map(({ part, sellsFor }, index): (typeof amounts)[number] => [
      ['tools', index, 'sellsFor'],
      `what ${part} sells for`,
      sellsFor,
    ]),
  ];
  return amounts.flatMap(([path, where, money]): Finding[] =>
    money === undefined || exchange.toClub(money.currency) !== undefined
      ? []
      : [
          {
            code: 'currency-without-rate',
            severity: 'warning',
            at: pointer(['request', 'buildOrBuy', ...path, 'currency']),
            where: `build or buy, ${where}`,
            found: `${money.currency}, for which there is no rate on ${job.asOf}`,
            limit: job.club.currency,
            todo: `It is not counted. Write it in ${job.club.currency}, or enter a rate.`,
          },
        ],
  );
}

/** Tools that are said to sell for more than they are bought for. */
function soldAboveCost(job: Job, bought: readonly ToolCost[]): Finding[] {
  const asked = job.request.buildOrBuy?.tools ?? [];
  return asked.flatMap(({ part, sellsFor }, index): Finding[] => {
    const tool = bought.find((one) => one.part === part);
    return !tool || !sellsFor || compareFractions(inClub(job, sellsFor), tool.paid) <= 0
      ? []
      : [
          {
            code: 'sells-above-cost',
            severity: 'warning',
            at: pointer(['request', 'buildOrBuy', 'tools', index, 'sellsFor']),
            where: `build or buy, ${part}`,
            found: `${sellsFor.amount} ${sellsFor.currency}, more than it is bought for`,
            todo: 'It is counted as costing nothing. Give at most what it costs.',
          },
        ];
  });
}
