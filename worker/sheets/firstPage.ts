import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import { text, type Block } from './block.ts';
import { notSourced, otherWays, stops, toAsk } from './firstPageParts.ts';
import { fitted, type Part } from './fitted.ts';
import { floored, summed, without } from './money.ts';
import { buildOrBuyLines } from './buildOrBuy/firstPage.ts';
import { leadingOf } from './buildOrBuy/sentence.ts';
import { clipped } from './names.ts';
import { withOptions } from './options.ts';
import { orderTitle } from './orderWords.ts';
import { paragraph } from './textTable.ts';

/** The first page of a quote is no longer than this, lines of text. */
export const FIRST_PAGE_LINES = 40;
/** Its title, the empty line after that, and the answer in three lines with the one after it. */
const HEAD_LINES = 6;

/** "Quote as of 2026-11-30" */
export function quoteTitle({ asOf }: Result): string {
  return `Quote as of ${asOf}`;
}

/** The first page under its title: what it costs and from whom, how sure that is, and what is to be done before ordering. */
export function firstPage(result: Result): Block[] {
  const parts: Part[] = [
    {
      title: 'For',
      least: 2,
      items: result.looms.map(({ loom, name, quantity, revision, options }) =>
        clipped(`${quantity} × ${name} (${loom}, revision ${revision})${withOptions(options)}`, 105),
      ),
      where: 'see Needs as sums in the appendix',
    },
    {
      title: 'Build or buy',
      least: 5,
      items: buildOrBuyLines(result),
      where: 'see Build or buy',
    },
    suppliersPart(result),
    { title: 'Fix these first', least: 6, items: stops(result), where: 'see What was found in the appendix' },
    {
      title: 'Ask or check before you order',
      least: 3,
      items: toAsk(result),
      where: 'see What was found and Thresholds in the appendix',
    },
    {
      title: 'Not sourced, so not in this price',
      least: 3,
      items: notSourced(result),
      where: 'see Not sourced in the appendix',
    },
    {
      title: 'What another way would cost',
      least: 3,
      items: otherWays(result),
      where: 'see Other ways to buy and Close alternatives in the appendix',
    },
  ];
  const leading = leadingOf(result);
  const above = leading === '' ? 0 : paragraph(leading).split('\n').length + 1;
  return [...text(leading), ...text(answer(result)), ...fitted(parts, FIRST_PAGE_LINES - HEAD_LINES - above)];
}

/** The answer in one sentence, and how sure it is. */
function answer({ orderLists, costs: { total }, proof, unsourced, findings }: Result): string {
  if (orderLists.length === 0) return 'Nothing is bought.';
  const from = counted(new Set(orderLists.map(({ supplier }) => supplier)).size, 'supplier');
  const missing =
    unsourced.length === 0
      ? ''
      : `, without ${counted(unsourced.length, 'need')} that ${unsourced.length === 1 ? 'is' : 'are'} not sourced`;
  const toFix = findings.filter(
    ({ severity, accepted }) => severity === 'stop' && accepted === undefined,
  ).length;
  const first = toFix === 0 ? '' : ` Fix ${counted(toFix, 'stop')} first.`;
  const paid = `${total.amount} ${total.currency} delivered, from ${from}${missing}.${first}`;
  if (proof.status !== 'bestSoFar') return `${paid} Proven: no other mix of the offers entered costs less.`;
  const nuisance = proof.nuisance ? ', with what parcels count as nuisances' : '';
  return `${paid} Not proven; cannot be under ${floored(proof.bound.amount, total.amount)} ${total.currency}${nuisance}.`;
}

function suppliersPart({ orderLists, costs: { total }, currency }: Result): Part {
  const rest = orderLists.map((list) =>
    without(list.total.amount, [list.goods.amount, list.postage.amount], currency),
  );
  const more = rest.some((amount) => Number(amount) !== 0);
  const rounded = orderLists.every((list, at) => Number(rest[at]) === Number(list.rounding.amount));
  const number = (head: string) => ({ head, align: 'right' }) as const;
  const row = (name: string, [goods = '', postage = '', other = '', all = '']: string[]) => [
    name,
    goods,
    postage,
    ...(more ? [other] : []),
    all,
  ];
  const sum = (amounts: string[]) => summed(amounts, currency);
  return {
    columns: [
      { head: 'Supplier', wraps: true },
      number('Goods'),
      number('Postage'),
      ...(more ? [number(rounded ? 'Rounding' : 'Tax, fees, rounding')] : []),
      number(`Total, ${currency}`),
    ],
    items: orderLists.map((list, at) =>
      row(clipped(orderTitle(list), 45), [
        list.goods.amount,
        list.postage.amount,
        rest[at] ?? '',
        list.total.amount,
      ]),
    ),
    last: row('Total', [
      sum(orderLists.map(({ goods }) => goods.amount)),
      sum(orderLists.map(({ postage }) => postage.amount)),
      sum(rest),
      total.amount,
    ]),
    least: 5,
    where: 'see Order lists',
  };
}
