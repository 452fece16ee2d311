import type { OrderList } from '../engine/model/result.ts';
import type { ThresholdMargin } from '../engine/model/thresholdMargin.ts';
import { metres } from '../engine/units/length.ts';
import { counted } from './amounts.ts';

/** What an order meets by little, a sentence or two each: by how much, and what it costs to miss it. */
export function marginLines({ margins = [], lines }: OrderList): string[] {
  return margins.map((margin) => {
    const { kind, threshold, over, percent, costs, line } = margin;
    const order = lines.find((one) => one.line === line);
    const words = (amount: Amount) =>
      amountWords(amount, order?.bought.form === 'length' ? 'length' : 'pack');
    const isJust = percent === 0;
    const reached = isJust
      ? 'This order comes to exactly that'
      : `This order is over that by ${words(over)} (${Math.max(0.1, Math.round(percent * 10) / 10)} %)`;
    const missed =
      costs === undefined
        ? 'Below it the supplier does not take the order'
        : kind === 'break'
          ? `At the price before it the line costs ${costs.amount} ${costs.currency} more`
          : `Below it the order costs ${costs.amount} ${costs.currency} more`;
    return `${FROM[kind](words(threshold), line)}. ${reached}. ${missed}.`;
  });
}

/** What is bought beyond the needs only to reach the minimum order, a sentence each. */
export function minimumLines({ moreForMinimum = [], lines }: OrderList): string[] {
  return moreForMinimum.map(({ line, over, minimumOrder: { amount, currency } }) => {
    const order = lines.find((one) => one.line === line);
    const words = amountWords(over, order?.bought.form === 'length' ? 'length' : 'pack');
    return `Line ${line}: ${words} more than needed, to reach the minimum order of ${amount} ${currency}.`;
  });
}

type Amount = ThresholdMargin['threshold'];

const FROM: Record<ThresholdMargin['kind'], (amount: string, line: number | undefined) => string> = {
  freePostage: (amount) => `Postage is free from ${amount} of goods`,
  postage: (amount) => `Postage is lower from ${amount} of goods`,
  minimumOrder: (amount) => `The minimum order is ${amount} of goods`,
  break: (amount, line) => `The price of line ${line ?? ''} holds from ${amount}`,
};

function amountWords(amount: Amount, unit: 'pack' | 'length'): string {
  if ('mm' in amount) return metres(amount.mm);
  return 'packs' in amount ? counted(amount.packs, unit) : `${amount.amount} ${amount.currency}`;
}
