import type { Result } from '../engine/model/result.ts';
import { blocksText, ruled, sectionsText } from './blockText.ts';
import { buildOrBuySection } from './buildOrBuy/sections.ts';
import { firstPage, quoteTitle } from './firstPage.ts';
import { orderListText } from './orderList.ts';
import { appendixSections, benchSections } from './quote.ts';
import { paragraph } from './textTable.ts';

/**
 * A quote as text, at most 110 characters wide, with a line end at its end: its first page, the order lists, the needs and the
 * cut list. `rest` says at its end how to see the appendix.
 */
export function quoteText(result: Result, rest: string): string {
  return joined([
    firstPageText(result),
    sectionsText([buildOrBuySection(result)]),
    orderLists(result),
    sectionsText(benchSections(result)),
    paragraph(rest),
  ]);
}

/** The first page by itself, without a line end at its end. */
export function firstPageText(result: Result): string {
  return [quoteTitle(result), blocksText(firstPage(result))].join('\n\n');
}

/** The appendix by itself: everything that the quote does not say. */
export function appendixText(result: Result): string {
  return joined([`Appendix to the quote as of ${result.asOf}`, sectionsText(appendixSections(result))]);
}

/** The quote with its appendix. */
export function fullText(result: Result): string {
  return joined([
    firstPageText(result),
    sectionsText([buildOrBuySection(result)]),
    orderLists(result),
    sectionsText([...benchSections(result), ...appendixSections(result)]),
  ]);
}

function orderLists({ orderLists: lists, asOf }: Result): string {
  if (lists.length === 0) return '';
  const sheets = lists.map((list) => orderListText({ list, asOf }));
  return [ruled('Order lists'), sheets.join('\n\n\n')].join('\n\n');
}

function joined(parts: readonly string[]): string {
  return `${parts.filter((part) => part !== '').join('\n\n\n')}\n`;
}
