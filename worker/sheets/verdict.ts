import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import { pairs, paragraph, textTable } from './textTable.ts';

/** What is paid to whom, and the total. */
export function costs({ costs: { lines, total } }: Result): string {
  if (lines.length === 0) return '';
  return pairs(
    [
      ...lines.map(({ label, amount }) => [label, amount.amount] as const),
      [`Total, ${total.currency}`, total.amount],
    ],
    'right',
  );
}

/** What each line adds to its supplier's parcel; left out where nobody charges. */
export function postageShares(result: Result): string {
  const charged = result.purchases.filter(
    ({ postageShare, taxShare }) => Number(postageShare.amount) !== 0 || Number(taxShare?.amount ?? 0) !== 0,
  );
  const taxed = charged.some(({ taxShare }) => taxShare !== undefined);
  return textTable(
    [
      { head: 'Line of', wraps: true },
      { head: 'Offer', wraps: true },
      { head: 'Goods', align: 'right' },
      { head: 'Share', align: 'right' },
      ...(taxed ? [{ head: 'Tax, duty, fees', align: 'right' } as const] : []),
      { head: `Delivered, ${result.currency}`, align: 'right' },
    ],
    charged.map(({ supplier, offer, cost, postageShare, taxShare, delivered }) => [
      supplier,
      offer,
      cost.amount,
      postageShare.amount,
      ...(taxed ? [taxShare?.amount ?? ''] : []),
      delivered.amount,
    ]),
  );
}

/** What none of the offers entered can meet. */
export function unsourced(result: Result): string {
  return textTable(
    [
      { head: 'Nobody sells', wraps: true },
      { head: 'Why', wraps: true },
      { head: 'What to do', wraps: true },
    ],
    result.unsourced.map(({ label, why, todo }) => [label, why, todo]),
  );
}

/** What other ways of buying the same would cost, and what this quote saves against them. */
export function comparisons(result: Result): string {
  return textTable(
    [
      { head: 'Another way of buying the same', wraps: true },
      { head: 'Suppliers', align: 'right' },
      { head: result.currency, align: 'right' },
      { head: 'This quote saves', align: 'right' },
    ],
    result.comparisons.map(({ label, suppliers, total, saving, unsourced: missing }) => [
      label,
      `${suppliers}`,
      total.amount,
      missing === 0 ? saving.amount : 'not the same',
    ]),
  );
}

const NEXT = {
  time: 'A longer time (the setting solverSeconds) may settle it.',
  cutting:
    'How the pieces of some wire are best cut from fixed lengths could not be told; there a way that was at hand is used.',
  numbers: 'The amounts or quantities are too large, or the prices too fine beside them, to prove more.',
} as const;

const LIMITED: Record<NonNullable<Result['timeLimited']>[number], string> = {
  purchases: 'what is bought, and all that follows from it',
  ties: 'which of equally cheap mixes is bought',
  comparisons: 'what all from one shop costs',
  beside: 'what lies beside the cheapest',
};

/** How sure it is that nothing is cheaper, in plain words. */
export function proof({ proof: known, orderLists, currency, timeLimited = [] }: Result): string {
  const from = counted(new Set(orderLists.map(({ supplier }) => supplier)).size, 'supplier');
  const nuisance = known.nuisance
    ? ` In this, ${known.nuisance.amount} ${currency} are what parcels count as nuisances; they are paid to nobody.`
    : '';
  const verdict = {
    nothingToBuy: 'There is nothing to buy, so nothing to prove.',
    proven: `Proven cheapest: no other mix of the offers entered costs less. Delivered from ${from} it comes to ${known.cost.amount} ${currency}, not rounded.${nuisance}`,
    bestSoFar: `Not proven: this is the cheapest mix found. It comes to ${known.cost.amount} ${currency}, not rounded; no mix costs less than ${known.bound.amount} ${currency}, so at most ${known.gap.amount} ${currency} (${known.gapPercent} %) could still be saved. ${NEXT[known.stoppedBy ?? 'time']}`,
  }[known.status];
  return [
    paragraph(verdict),
    ...(timeLimited.length === 0
      ? []
      : [
          '',
          paragraph(
            `Time ended before these were worked to the end: ${timeLimited.map((part) => LIMITED[part]).join('; ')}. Worked again, they may come out otherwise.`,
          ),
        ]),
    ...(known.assumptions.length === 0 ? [] : ['', 'Taken for granted:']),
    ...known.assumptions.map((assumption) => paragraph(assumption, '- ')),
  ].join('\n');
}

/** The rates that the amounts go by. */
export function rates(result: Result): string {
  return textTable(
    [{ head: 'One' }, { head: 'is, in ' + result.currency, align: 'right' }, { head: 'on' }],
    result.rates.map(({ currency, rate, on }) => [currency, rate, on]),
  );
}
