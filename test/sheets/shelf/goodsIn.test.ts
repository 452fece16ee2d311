import { describe, expect, test } from 'vitest';
import { lineStates } from '../../../worker/engine/model/orderLines.ts';
import { ReceiptIn, type OrderState } from '../../../worker/engine/model/order.ts';
import type { OrderLine } from '../../../worker/engine/model/result.ts';
import { goodsInSheet, type OrderOnItsWay } from '../../../worker/sheets/shelf/goodsIn.ts';
import { goodsInCsv } from '../../../worker/sheets/shelf/goodsInCsv.ts';
import { shelfSheetHtml } from '../../../worker/sheets/shelf/shelfSheet.ts';
import { printShelf } from '../../../worker/threads/printed.ts';
import { hasPdfReader, pagesOf } from '../readPdf.ts';
import { gbp, metreLine, orderList, packLine } from '../sample.ts';

const hank: Partial<OrderLine> = {
  description: 'Thin-wall wire',
  colour: 'blue',
  bought: { form: 'length', packs: 2, nominalMm: 25_000, usableMm: 24_990, packPrice: gbp('9.10') },
};
const LINES = [metreLine(1), packLine(2, { supplierCode: 'R6-10' }), packLine(3, hank)];

/** An order of three lines after deliveries that say this of their lines. */
function order(
  deliveries: object[][] = [],
  { lines = LINES, ...given }: Partial<Omit<OrderOnItsWay, 'lines'>> & { lines?: OrderLine[] } = {},
): OrderOnItsWay {
  return {
    number: 4,
    state: 'sent',
    list: orderList(lines),
    lines: lineStates(
      lines,
      deliveries.map((of) => ReceiptIn.parse({ lines: of })),
    ),
    supplierNumber: 'AW-8812',
    note: undefined,
    sentOn: '2026-11-25',
    day: '2026-11-28',
    ...given,
  };
}

const html = (of: OrderOnItsWay) => [...shelfSheetHtml(goodsInSheet(of))].join('');
const textOf = (page: string) =>
  page
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]+>/g, ' ')
    .replaceAll(/[\s\u00a0]+/g, ' ');
/** The rows of its table, by heading. */
function rows(of: OrderOnItsWay): Record<string, string>[] {
  return goodsInSheet(of).sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) =>
      block.form === 'table'
        ? block.rows.map((row) =>
            Object.fromEntries(block.columns.map(({ head }, at) => [head, row[at] ?? ''])),
          )
        : [],
    ),
  );
}

describe('the list for goods that come in', () => {
  test('says which order it is, whose, under which number of theirs, and when it was sent', () => {
    const text = textOf(html(order([], { note: 'ring before they come' })));
    for (const said of [
      'Goods-in list: order 4, Ash Wire &amp; Terminal',
      'The supplier’s number of the order: AW-8812',
      'Sent on 2026-11-25',
      'Note: ring before they come',
    ])
      expect(text).toContain(said);
  });

  test('has of each line its number, their code, what it is, what one unit is, and how many', () => {
    expect(rows(order())).toMatchObject([
      { 'No.': '1', 'What it is': 'Thin-wall wire, red (TW-R)', 'Still to come': '12.5 m' },
      { 'No.': '2', 'What it is': 'Ring terminal (R6-10)', Ordered: '3 packs of 10', 'Came so far': '0' },
      { 'No.': '3', 'What it is': 'Thin-wall wire, blue', Ordered: '2 lengths of 25 m' },
    ]);
  });

  test('has four boxes for each line of which something is still to come, and none for one that is done', () => {
    const of = order([[{ line: 2, arrived: 2, notComing: 1 }]]);
    expect(html(order()).match(/class="write"/g)).toHaveLength(12);
    expect(html(of).match(/class="write"/g)).toHaveLength(8);
    expect(rows(of)[1]).toMatchObject({ 'Came so far': '2; 1 not coming', 'Still to come': 'done' });
  });

  test('says what came of all deliveries, and that what is faulty or wrong is still to come', () => {
    const of = order([
      [
        { line: 1, lengthsMm: [3_200, 1_800], backOrdered: 4_000 },
        { line: 3, arrived: 1 },
      ],
      [{ line: 2, arrived: 1, faulty: 1, wrong: 1, backOrdered: 2 }],
    ]);
    expect(rows(of)).toMatchObject([
      { 'Came so far': '5 m', 'Still to come': '7.5 m; of these 4 m later' },
      { 'Came so far': '1; 1 faulty; 1 wrong', 'Still to come': '2, later' },
      { 'Came so far': '1', 'Still to come': '1' },
    ]);
  });

  test('names what may be sent instead, so that it is not taken for wrong', () => {
    const instead = [{ description: 'Ring terminal, tinned', supplierCode: 'R6-T' }];
    expect(rows(order([], { lines: [packLine(1, { instead })] }))).toMatchObject([
      { 'What it is': 'Ring terminal. May be sent instead: Ring terminal, tinned (R6-T)' },
    ]);
  });

  test.each<[OrderState, string]>([
    ['draft', 'Not sent yet'],
    ['received', 'All of this order came, or will not come.'],
    ['closed', 'Nothing more of it is waited for.'],
    ['cancelled', 'This order is cancelled.'],
  ])('says of an order that is %s: %s', (state, words) => {
    const sentOn = state === 'draft' ? undefined : '2026-11-25';
    expect(textOf(html(order([], { state, sentOn })))).toContain(words);
  });

  test('has no boxes once the order is closed or cancelled, and says what is not waited for', () => {
    for (const state of ['closed', 'cancelled'] as const) {
      const of = order([[{ line: 2, arrived: 3 }]], { state });
      expect(html(of)).not.toContain('class="write"');
      expect(rows(of).map((row) => row['Still to come'])).toEqual([
        '12.5 m, not waited for',
        'done',
        '2, not waited for',
      ]);
    }
  });

  test('lets nothing that people typed become markup, and needs nothing from elsewhere', () => {
    const evil = '<script>alert("x")</script>';
    const line = packLine(1, { description: evil, supplierCode: evil, colour: `${evil} ` });
    const page = html({
      ...order([], { lines: [line], supplierNumber: evil, note: evil }),
      list: orderList([line], { name: evil, reference: evil, vehicles: [evil] }),
    });
    expect(page).not.toContain('<script');
    expect(page).not.toMatch(/https?:|src=|url\(|@import/);
    // Title, heading, what the page belongs to, supplier, number, note, reference, vehicle; and three of the line.
    expect(page.match(/&lt;script&gt;/g)).toHaveLength(11);
  });

  test('is CSV with bare numbers, what is by the metre in metres, and no cell that is a formula', () => {
    const lines = [metreLine(1), packLine(2, { description: '=1+1' })];
    const csv = [...goodsInCsv(order([[{ line: 1, lengthsMm: [3_200] }]], { lines }))].join('');
    expect(csv.split('\r\n').slice(1, 3)).toEqual([
      '1,TW-R,"Thin-wall wire, red",metre,,,12.5,3.2,0,0,0,9.3',
      "2,,'=1+1,pack,10,,3,0,0,0,0,3",
    ]);
  });

  test.skipIf(!hasPdfReader)('is a PDF that says the same, with its heads on every page', async () => {
    const lines = Array.from({ length: 60 }, (_, at) =>
      packLine(at + 1, { description: `Ring terminal of a long name that goes on and on, kind ${at + 1}` }),
    );
    const pages = pagesOf(await printShelf(goodsInSheet(order([], { lines })), 'a4'));
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) {
      expect(page).toContain('Faulty');
      expect(page).toContain('Order 4, Ash Wire & Terminal. As of 2026-11-28');
    }
    expect(pages.join('')).toContain('kind 60');
  });
});
