import type { Result } from '../engine/model/result.ts';
import { blocksHtml, sectionsHtml } from './blockHtml.ts';
import { firstPage, quoteTitle } from './firstPage.ts';
import { buildOrBuySection } from './buildOrBuy/sections.ts';
import { escaped } from './html.ts';
import { orderSection } from './orderListHtml.ts';
import { pageHtml } from './pageHtml.ts';
import { appendixSections, benchSections } from './quote.ts';

/** A quote as a page to print: its first page, each order list on a sheet of its own, the needs and the cut list. */
export function quoteHtml(result: Result): string {
  return pageHtml(quoteTitle(result), quoteBody(result));
}

/** The quote with its appendix. */
export function fullHtml(result: Result): string {
  return pageHtml(quoteTitle(result), `${quoteBody(result)}\n${appendixBody(result)}`);
}

/** The appendix by itself. */
export function appendixHtml(result: Result): string {
  const title = `Appendix to the quote as of ${result.asOf}`;
  return pageHtml(title, `<h1>${escaped(title)}</h1>\n${sectionsHtml(appendixSections(result))}`);
}

function quoteBody(result: Result): string {
  const { orderLists, asOf } = result;
  const decision = sectionsHtml([buildOrBuySection(result)]);
  return [
    `<section class="first">\n<h1>${escaped(quoteTitle(result))}</h1>\n${blocksHtml(firstPage(result))}\n</section>`,
    ...(decision === '' ? [] : [`<div class="page">\n${decision}\n</div>`]),
    ...orderLists.map((list) => `<div class="page">\n${orderSection({ list, asOf }, 'h2')}\n</div>`),
    `<div class="page cut">\n${sectionsHtml(benchSections(result))}\n</div>`,
  ].join('\n');
}

function appendixBody(result: Result): string {
  return `<div class="page">\n<h1>Appendix</h1>\n${sectionsHtml(appendixSections(result))}\n</div>`;
}
