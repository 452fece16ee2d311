import { describe, expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import { appendixHtml, fullHtml, quoteHtml } from '../../worker/sheets/quoteHtml.ts';
import { sheetsHtml } from '../../worker/sheets/print.ts';
import { SHEET_NAMES } from '../../worker/sheets/sheet.ts';
import { sheetOf } from '../../worker/sheets/sheets.ts';
import { fullResult } from './sample.ts';

const EVIL = `<img src=x onerror="alert('x')">&`;

/** Every text of a document made hostile; what codes and amounts are made of stays, as the model lets no markup into them. */
function hostile(value: unknown, name = ''): unknown {
  if (typeof value === 'string')
    return /^(amount|currency|kind|form|severity|status|join|condition|origin|supply|how|basis|base|system|id|requirement|offer|why|loom|stoppedBy)$/.test(
      name,
    )
      ? value
      : `${value}${EVIL}`;
  if (Array.isArray(value)) return value.map((item) => hostile(item, name));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, hostile(item, key)]));
}

/** What is wrong with the tags of a page: those that are closed in another order, or not at all. */
function unclosed(html: string): string[] {
  const open: string[] = [];
  for (const [tag, slash, name = '', , alone] of html.matchAll(
    /<(\/?)([a-z][a-z0-9]*)((?:\s[^>]*?)?)(\/?)>/g,
  )) {
    if (alone === '/') continue;
    if (slash === '') open.push(name);
    else if (open.pop() !== name) return [`${tag} closes another`];
  }
  return open;
}

describe('a quote as a page', () => {
  test('has its first page, then each order list on a sheet of its own, needs and cut list, in this order', async () => {
    const html = quoteHtml(await fullResult());
    const heads = [...html.matchAll(/<h[12]>(.*?)<\/h[12]>/g)].map(([, head]) => head);
    expect(heads).toEqual([
      'Quote as of 2026-03-02',
      'Order list: Supplier near',
      'What is needed',
      'Cut list',
    ]);
    expect(html.match(/<div class="page/g)).toHaveLength(2);
    expect(html).not.toContain('Assumptions');
  });

  test('has the appendix behind it where that is asked for, and the appendix is a page of its own too', async () => {
    const result = await fullResult();
    expect(fullHtml(result)).toContain('<h3>Assumptions</h3>');
    expect(appendixHtml(result)).toContain('<h3>Assumptions</h3>');
    expect(appendixHtml(result)).not.toContain('Order list:');
  });

  test('lets nothing that people typed become markup, wherever it stands', async () => {
    const result = hostile(await fullResult()) as Result;
    for (const html of [fullHtml(result), appendixHtml(result)]) {
      expect(html).not.toContain('<img');
      expect(html).not.toMatch(/&(?!amp;|lt;|gt;|quot;|#39;|nbsp;)/);
    }
    expect(fullHtml(result).match(/&lt;img/g)?.length).toBeGreaterThan(100);
  });

  test('closes every tag that it opens, in order', async () => {
    const result = await fullResult();
    const sheets = SHEET_NAMES.map((name) => sheetOf(result, name));
    for (const html of [fullHtml(result), appendixHtml(result), [...sheetsHtml(result, sheets)].join('')])
      expect(unclosed(html)).toEqual([]);
  });

  test('needs nothing from elsewhere, keeps rows whole, and leaves the sheet’s size to the printer', async () => {
    const html = fullHtml(await fullResult());
    expect(html).not.toMatch(/https?:|src=|url\(|@import|[{;]\s*size:|<script/);
    expect(html).toMatch(/tr \{ break-inside: avoid; \}/);
  });
});
