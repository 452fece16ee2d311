import { WrongCall } from '../command/arguments.ts';
import type { Job } from '../engine/model/job.ts';
import { Money } from '../engine/model/money.ts';
import { isWrong } from '../engine/model/short/form.ts';
import { moneyForm } from '../engine/model/short/moneyForm.ts';
import { USAGE } from './usage.ts';

/** What the command line asks about building and buying. */
export interface BuildOrBuyFlags {
  isAsked: boolean;
  /** As it was typed: "12", "12.50 EUR". */
  hourWorth: string | undefined;
}

/** The job with a request that asks whether to build or to buy; what its own request says of that stays. Throws WrongCall. */
export function withBuildOrBuy(job: Job, { isAsked, hourWorth }: BuildOrBuyFlags): Job {
  if (!isAsked && hourWorth === undefined) return job;
  const worth = hourWorth === undefined ? {} : { hourWorth: worthOf(hourWorth, job.club.currency) };
  return { ...job, request: { ...job.request, buildOrBuy: { ...job.request.buildOrBuy, ...worth } } };
}

function worthOf(text: string, currency: string): Money {
  const reading = moneyForm.read(text, { currency });
  const money = isWrong(reading) ? undefined : Money.safeParse(reading.value);
  if (money?.success) return money.data;
  const why = isWrong(reading) ? reading.todo : (money?.error.issues[0]?.message ?? '');
  const sentence = `${why.charAt(0).toUpperCase()}${why.slice(1)}`;
  throw new WrongCall(
    `--hour-worth takes what an hour of your work is worth, such as 12 or 12.50, or 0. ${sentence}.\n\n${USAGE.trimEnd()}`,
  );
}
