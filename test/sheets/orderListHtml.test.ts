import { describe, expect, test } from 'vitest';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import { gbp, metreLine, orderList, packLine } from './sample.ts';

const page = (...args: Parameters<typeof orderList>) =>
  orderListHtml({ list: orderList(...args), asOf: '2026-11-24' });
/** The text of a page, a space for each tag. */
const textOf = (html: string) =>
  html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]+>/g, ' ')
    .replaceAll('&nbsp;', ' ')
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
      'green with white tracer',
      '12.5 m one continuous length',
      'seen 2026-11-02',
      'Please do not substitute.',
      'R6-10',
      '3 packs of 10',
      '1.20 a pack',
      'Ring terminal (old stock)',
      'Postage 2.50',
      'Handling 0.75',
      'Total, GBP 11.66',
    ])
      expect(text).toContain(said);
    expect(page(lines)).not.toMatch(/internal-(offer|supplier)|part:x|Rounding|\(GW\)/);
    expect(page(lines)).toContain('<strong>one continuous length</strong>');
    expect(page(lines).match(/class="box"/g)).toHaveLength(2);
  });

  test('lets nothing that people typed become markup', () => {
    const evil = '<script>alert("x")</script>';
    const line = packLine(1, {
      description: evil,
      supplierCode: evil,
      colour: `${evil} `,
      holds: evil,
      instead: [{ description: evil, supplierCode: evil }],
    });
    const html = page([line], {
      name: evil,
      reference: evil,
      vehicles: [evil],
      buyer: { name: evil, address: evil, phone: evil, email: evil },
      contact: { email: evil, phone: evil, website: evil },
      madeFor: [{ name: evil, quantity: 1, options: [evil] }],
    });
    expect(html).not.toContain('<script');
    // Title and heading, the line's six, the buyer's and the contact's seven, reference, vehicle, loom and option.
    expect(html.match(/&lt;script&gt;/g)).toHaveLength(19);
  });

  test('needs nothing from elsewhere, and leaves the sheet’s size to the printer', () => {
    const html = page([packLine(1)]);
    expect(html).not.toMatch(/https?:|src=|url\(|@import|[{;]\s*size:/);
  });
});
