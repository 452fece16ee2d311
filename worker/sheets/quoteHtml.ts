import type { Result } from '../engine/model/result.ts';
import { blocksHtml, sectionsHtml } from './blockHtml.ts';
import { firstPage, quoteTitle } from './firstPage.ts';
import { buildOrBuySection } from './buildOrBuy/sections.ts';
import { markup, lined, type Html } from './html.ts';
import { orderSection } from './orderListHtml.ts';
import { pageHtml } from './pageHtml.ts';
import { appendixSections, benchSections } from './quote.ts';

/** A quote as a page to print: its first page, each order list on a sheet of its own, the needs and the cut list. */
export function quoteHtml(result: Result): string {
  return pageHtml(quoteTitle(result), quoteBody(result));
}

/** The quote with its appendix. */
export function fullHtml(result: Result): string {
  return pageHtml(quoteTitle(result), lined([quoteBody(result), appendixBody(result)]));
}

/** The appendix by itself. */
export function appendixHtml(result: Result): string {
  const title = `Appendix to the quote as of ${result.asOf}`;
  return pageHtml(title, lined([markup`<h1>${title}</h1>`, sectionsHtml(appendixSections(result))]));
}

function quoteBody(result: Result): Html {
  const { orderLists, asOf } = result;
  const decision = buildOrBuySection(result);
  return lined([
    markup`<section class="first">
      <h1>${quoteTitle(result)}</h1>
      ${blocksHtml(firstPage(result))}
    </section>`,
    ...(decision.blocks.length === 0 ? [] : [markup`<div class="page">${sectionsHtml([decision])}</div>`]),
    ...orderLists.map((list) => markup`<div class="page">${orderSection({ list, asOf }, 'h2')}</div>`),
    markup`<div class="page cut">${sectionsHtml(benchSections(result))}</div>`,
  ]);
}

function appendixBody(result: Result): Html {
  return markup`<div class="page">
    <h1>Appendix</h1>
    ${sectionsHtml(appendixSections(result))}
  </div>`;
}
