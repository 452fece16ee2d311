import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { groups, list, pictured, sums, table, text, totalled, under } from '../../worker/sheets/block.ts';
import type { Block, Column } from '../../worker/sheets/block.ts';
import { sheetsPdf } from '../../worker/sheets/pdf/sheetsPdf.ts';
import { readFonts } from '../../worker/threads/fonts.ts';
import { hasPdfReader, pagesOf } from './readPdf.ts';

const FONTS = readFonts();
const COLUMNS: Column[] = [{ head: '', tick: true }, { head: 'Name' }, { head: 'Words', wraps: true }];

function printed(blocks: readonly Block[], paper: 'a4' | 'letter' = 'a4'): Promise<Uint8Array> {
  const sheets = [{ name: 'quote' as const, title: 'Sheet', sections: [{ title: 'Section', blocks }] }];
  return sheetsPdf(
    { title: 'A quote', sheets, foot: 'Loom. As of 2026-03-02', asOf: '2026-03-02', paper },
    FONTS,
  );
}

const EVERY_FORM = [
  ...text('A paragraph.'),
  ...under('A heading', list(['one item', 'another item'])),
  ...table(COLUMNS, [['', 'W1', 'words of W1']]),
  ...totalled(COLUMNS, [
    ['', 'W2', 'words of W2'],
    ['', 'Sum', '2'],
  ]),
  ...groups(COLUMNS, [{ head: 'A group', rows: [['', 'W3', 'words of W3']] }]),
  ...sums([
    ['Goods', '1.20'],
    ['Total', '1.25'],
  ]),
  ...pictured({
    title: 'A picture',
    width: 200,
    height: 50,
    shapes: [{ is: 'words', x: 10, y: 20, words: 'Drawn', size: 9, anchor: 'start' }],
  }),
];

test('the same sheets are the same bytes, dated with the day of the quote', async () => {
  const [first, second] = [await printed(EVERY_FORM), await printed(EVERY_FORM)];
  expect(Buffer.compare(first, second)).toBe(0);
  const raw = Buffer.from(first).toString('latin1');
  expect([...raw.matchAll(/\((D:\d+Z)\)/g)].map(([, day]) => day)).toEqual([
    'D:20260302000000Z',
    'D:20260302000000Z',
  ]);
});

describe.skipIf(!hasPdfReader)('read back, a PDF', () => {
  test('says everything that its blocks say', async () => {
    const [page = ''] = pagesOf(await printed(EVERY_FORM));
    const said = [
      'A paragraph.',
      'A heading',
      'one item',
      'words of W1',
      'words of W2',
      'A group',
      'words of W3',
      'Drawn',
    ];
    for (const words of said) expect(page).toContain(words);
    expect(page).toMatch(/Goods +1\.20\n.*Total +1\.25/);
  });

  test('keeps signs, accents and ligatures', async () => {
    const signs = '10 Ω ≤ 0.5 V – × 2.5 mm² ½ → ± ° µ “” ’ €';
    const names = 'Škoda, Citroën, Łódź, İğdır, Ångström, fluffy office';
    const [page = ''] = pagesOf(await printed([...text(signs), ...text(names)]));
    expect(page).toContain(signs);
    expect(page).toContain(names);
  });

  test('joins an accent to its letter, and shows a box for what no font has', async () => {
    const [page = ''] = pagesOf(await printed(text('cafe\u0301 \u{1F697}!')));
    expect(page).toContain('café □!');
  });

  test('takes line ends and control characters as spaces', async () => {
    const [page = ''] = pagesOf(await printed(text('one\ntwo\u0007three')));
    expect(page).toContain('one two three');
  });

  test('numbers each page of how many and says the sheet and what it belongs to, on both papers', async () => {
    const blocks = table(
      COLUMNS,
      Array.from({ length: 150 }, (_, at) => ['', `W${at}`, 'words']),
    );
    for (const paper of ['a4', 'letter'] as const) {
      const pages = pagesOf(await printed(blocks, paper));
      expect(pages.length).toBeGreaterThan(2);
      pages.forEach((page, at) => {
        expect(page).toMatch(
          new RegExp(`Sheet +page ${at + 1} of ${pages.length}\\n.*Loom\\. As of 2026-03-02`),
        );
        expect(page).toMatch(/Name +Words/);
      });
    }
  });

  test('splits no row over pages, and no group that fits on one; a longer group says its name again', async () => {
    const words = fc.integer({ min: 1, max: 120 });
    const shape = fc.array(fc.array(words, { minLength: 1, maxLength: 25 }), { minLength: 1, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(shape, async (all) => {
        const named = all.map((rows, group) => ({
          head: `group${group}head`,
          rows: rows.map((count, row) => [
            '',
            `g${group}r${row}`,
            Array.from({ length: count }, () => `g${group}r${row}`).join(' '),
          ]),
        }));
        const pages = pagesOf(await printed(groups(COLUMNS, named)));
        named.forEach(({ head, rows }, group) => {
          const own = pages.filter((page) => new RegExp(`\\bg${group}r\\d`).test(page));
          for (const page of own) expect(page).toContain(head);
          // At least 8 of these words stand on a line of 11 points, and a page has more than 650.
          const most = all[group]?.reduce((sum, count) => sum + 15 + (count / 8) * 11, 0) ?? 0;
          if (most < 600) expect(own).toHaveLength(1);
          rows.forEach(([, name = '', cell = '']) => {
            const marks = pages.map((page) => page.match(new RegExp(`\\b${name}\\b`, 'g'))?.length ?? 0);
            expect(marks.filter((count) => count > 0)).toEqual([cell.split(' ').length + 1]);
          });
        });
      }),
      { numRuns: 12 },
    );
  });

  test('a row that is higher than a page is still said whole', async () => {
    const cell = Array.from({ length: 3000 }, (_, at) => `n${at}`).join(' ');
    const said = pagesOf(await printed(table(COLUMNS, [['', 'W1', cell]]))).join(' ');
    expect(new Set(said.match(/\bn\d+\b/g)).size).toBe(3000);
  });
});
