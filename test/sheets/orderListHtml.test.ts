import { describe, expect, test } from 'vitest';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import { gbp, metreLine, orderList, packLine } from './sample.ts';

const cautions = ['Disconnect the battery & wait.'];
const page = (...args: Parameters<typeof orderList>) =>
  orderListHtml({ list: orderList(...args), asOf: '2026-11-24', cautions });
/** The text of a page, a space for each tag. */
const textOf = (html: string) =>
  html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]+>/g, ' ')
    .replaceAll(/\s+/g, ' ');

describe('an order list as a page', () => {
  test('says all that the supplier must know, and none of our ids', () => {
    const lines = [
      metreLine(1, { colour: 'green with white tracer', colourLetters: 'GW', seenOn: '2026-11-02' }),
      packLine(2, { supplierCode: 'R6-10', condition: 'oldStock' }),
    ];
    const text = textOf(page(lines, { handling: gbp('0.75') }));
    for (const said of [
      'Ash Wire &amp; Terminal',
      'green with white tracer (GW)',
      'one continuous length',
      'seen on 2026-11-02',
      'R6-10',
      '3 packs of 10',
      '1.20 a pack',
      'condition: old stock',
      'Postage 2.50',
      'Handling 0.75',
      'Rounding -0.01',
      'Total, GBP 10.90',
      'Disconnect the battery &amp; wait.',
    ])
      expect(text).toContain(said);
    expect(page(lines)).not.toMatch(/internal-(offer|supplier)|part:x/);
    expect(page(lines).match(/class="box"/g)).toHaveLength(2);
  });

  test('lets nothing that people typed become markup', () => {
    const evil = '<script>alert("x")</script>';
    const html = page([packLine(1, { description: evil, supplierCode: evil, colour: evil })], { name: evil });
    expect(html).not.toContain('<script');
    expect(html.match(/&lt;script&gt;/g)?.length).toBeGreaterThanOrEqual(5);
  });

  test('needs nothing from elsewhere, and leaves the sheet’s size to the printer', () => {
    const html = page([packLine(1)]);
    expect(html).not.toMatch(/https?:|src=|url\(|@import|[{;]\s*size:/);
  });
});
