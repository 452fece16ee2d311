import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import { list, sums, table, text, under, type Block } from './block.ts';
import { marginLines, minimumLines } from './margins.ts';
import { supplierNames } from './names.ts';
import { importSums } from './orderSums.ts';
import { orderTitle } from './orderWords.ts';

/** What is paid for what, and the total; the rounding that makes the lines sum to it. */
export function costs({ costs: { lines, total } }: Result): Block[] {
  if (lines.length === 0) return [];
  return sums([
    ...lines.map(({ label, amount }) => [label, amount.amount] as const),
    [`Total, ${total.currency}`, total.amount],
  ]);
}

/** Of what is paid in another currency or at a border: how the supplier's invoice becomes the cost. */
export function imports({ orderLists }: Result): Block[] {
  return orderLists.flatMap((order) => under(orderTitle(order), sums(importSums(order))));
}

/** What is bought of which offer, with its share of the postage, handling, tax and fees of its parcel. */
export function lines(result: Result): Block[] {
  const { purchases, currency } = result;
  const taxed = purchases.some(({ taxShare }) => taxShare !== undefined);
  const name = supplierNames(result);
  return table(
    [
      { head: 'Supplier', wraps: true },
      { head: 'Offer', wraps: true },
      { head: 'Part', wraps: true },
      { head: 'Goods', align: 'right' },
      { head: 'Postage', align: 'right' },
      ...(taxed ? [{ head: 'Tax, fees', align: 'right' } as const] : []),
      { head: `Delivered, ${currency}`, align: 'right' },
    ],
    purchases.map(({ supplier, wave, offer, part, insteadOf, cost, postageShare, taxShare, delivered }) => [
      wave === undefined ? name(supplier) : `${name(supplier)}, order ${wave}`,
      offer,
      insteadOf === undefined ? part : `${part} in place of ${insteadOf}`,
      cost.amount,
      postageShare.amount,
      ...(taxed ? [taxShare?.amount ?? ''] : []),
      delivered.amount,
    ]),
  );
}

/** Families for which others may stand in. */
export function families({ families: all }: Result): Block[] {
  return table(
    [
      { head: 'Family needed', wraps: true },
      { head: 'Family bought', wraps: true },
    ],
    all.map(({ needed, bought }) => [needed, bought]),
  );
}

/** What an order meets by little, for each order. */
export function thresholds({ orderLists }: Result): Block[] {
  return orderLists.flatMap((order) =>
    under(orderTitle(order), list([...minimumLines(order), ...marginLines(order)])),
  );
}

/** What none of the offers entered can meet. */
export function unsourced({ unsourced: all }: Result): Block[] {
  return table(
    [
      { head: 'Need', wraps: true },
      { head: 'Why', wraps: true },
      { head: 'What to do', wraps: true },
    ],
    all.map(({ label, why, todo }) => [label, why, todo]),
  );
}

/** What is bought though nobody has confirmed what it rests on. */
export function unconfirmed({ unconfirmed: all = [] }: Result): Block[] {
  return table(
    [
      { head: 'Offer', wraps: true },
      { head: 'Part', wraps: true },
      { head: 'What is not confirmed', wraps: true },
    ],
    all.map(({ offer, part, detail }) => [offer, part, detail]),
  );
}

/** What other ways of buying the same would cost, and what this quote saves against them. */
export function comparisons({ comparisons: all, currency }: Result): Block[] {
  return table(
    [
      { head: 'Another way', wraps: true },
      { head: 'Suppliers', align: 'right' },
      { head: currency, align: 'right' },
      { head: 'This quote saves', align: 'right' },
    ],
    all.map(({ label, suppliers, total, saving, unsourced: missing }) => [
      label,
      `${suppliers}`,
      total.amount,
      missing === 0 ? saving.amount : 'not the same',
    ]),
  );
}

const NEXT = {
  time: 'More time (the setting solverSeconds) may settle it.',
  cutting:
    'It is not known how the pieces of some wire are best cut from fixed lengths. A way that was known is used there.',
  numbers: 'The amounts or quantities are too large, or the prices too fine, to prove more.',
} as const;

const LIMITED: Record<NonNullable<Result['timeLimited']>[number], string> = {
  purchases: 'what is bought, and all that follows from it',
  ties: 'which of equally cheap mixes is bought',
  comparisons: 'what all from one supplier costs',
  beside: 'close alternatives',
  buildOrBuy: 'building or buying made',
};

/** How sure it is that nothing is cheaper. */
export function proof({ proof: known, orderLists, currency, timeLimited = [], jobHash }: Result): Block[] {
  const from = counted(new Set(orderLists.map(({ supplier }) => supplier)).size, 'supplier');
  const nuisance = known.nuisance
    ? ` ${known.nuisance.amount} ${currency} of this is what parcels count as nuisances. Nobody is paid it.`
    : '';
  const verdict = {
    nothingToBuy: 'There is nothing to buy, so there is nothing to prove.',
    proven: `Proven: no other mix of the offers entered costs less. Delivered from ${from} it comes to ${known.cost.amount} ${currency}, not rounded.${nuisance}`,
    bestSoFar: `Not proven: this is the cheapest mix found. Delivered from ${from} it comes to ${known.cost.amount} ${currency}, not rounded. No mix can cost less than ${known.bound.amount} ${currency}: at most ${known.gap.amount} ${currency} (${known.gapPercent} %) less.${nuisance} ${NEXT[known.stoppedBy ?? 'time']}`,
  }[known.status];
  const ended =
    timeLimited.length === 0
      ? ''
      : `The time was over before these were finished: ${timeLimited.map((part) => LIMITED[part]).join('; ')}. They may be different when the quote is worked again.`;
  return [
    ...text(verdict),
    ...text(ended),
    ...under('Assumptions', list(known.assumptions)),
    ...text(`This quote was worked from the job ${jobHash}.`),
  ];
}

/** The rates of exchange that the amounts go by. */
export function rates(result: Result): Block[] {
  return table(
    [{ head: 'One' }, { head: `is, in ${result.currency}`, align: 'right' }, { head: 'on' }],
    result.rates.map(({ currency, rate, on }) => [currency, rate, on]),
  );
}
