import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shelfSheetHtml } from '../../../worker/sheets/shelf/shelfSheet.ts';
import type { Stocked } from '../../../worker/sheets/shelf/shelfOrder.ts';
import { stockListSheet } from '../../../worker/sheets/shelf/stockList.ts';
import { printShelf } from '../../../worker/threads/printed.ts';
import { hasPdfReader, pagesOf } from '../readPdf.ts';
import { lengths, pieces } from './stocked.ts';

const sheet = (all: readonly Stocked[], only: string[] = []) =>
  stockListSheet(all, { only, day: '2026-11-28' });
const blocks = (all: readonly Stocked[]) => sheet(all).sections.flatMap((section) => section.blocks);
/** Each place with the rows of its items, by heading. */
const places = (all: readonly Stocked[]) =>
  blocks(all).flatMap((block) =>
    block.form === 'groups'
      ? block.groups.map(({ head, rows }) => ({
          place: head,
          rows: rows.map((row) =>
            Object.fromEntries(block.columns.map(({ head }, at) => [head, row[at] ?? ''])),
          ),
        }))
      : [],
  );
const totals = (all: readonly Stocked[]) =>
  blocks(all).flatMap((block) => (block.form === 'table' ? block.rows : []));

describe('the stock list', () => {
  test('stands by place, drawer 2 before drawer 10, and what has no place last', () => {
    const all = [
      pieces('a', 1),
      pieces('b', 1, { place: 'drawer 10' }),
      pieces('c', 1, { place: 'drawer 2' }),
    ];
    expect(places(all).map(({ place }) => place)).toEqual(['drawer 2', 'drawer 10', 'Without a place']);
  });

  test('has each item with its part, count, length in metres, whose it is, its note, and a box', () => {
    const all = [
      lengths('green-3200', 2, 3_200, { owner: 'Ada', clubMayUse: false, note: 'a little stiff' }),
      pieces('box-3', 12, { owner: 'Ben' }),
    ];
    expect(places(all)[0]?.rows).toEqual([
      {
        Part: 'PVC wire, green',
        'Code of the item': 'green-3200',
        Whose: 'Ada, not for the club',
        Note: 'a little stiff',
        Count: '2',
        Each: '3.2 m',
        Counted: '',
      },
      {
        Part: 'Ring terminal',
        'Code of the item': 'box-3',
        Whose: 'Ben',
        Note: '',
        Count: '12',
        Each: 'piece',
        Counted: '',
      },
    ]);
    expect([...shelfSheetHtml(sheet(all))].join('').match(/class="write"/g)).toHaveLength(2);
  });

  test('leaves out the columns in which no item has anything', () => {
    expect(Object.keys(places([pieces('box-3', 12)])[0]?.rows[0] ?? {})).toEqual([
      'Part',
      'Code of the item',
      'Count',
      'Each',
      'Counted',
    ]);
  });

  test('has the lengths of a part apart, the longest first, and says in how many lengths all of it lies', () => {
    const all = [
      lengths('short', 3, 1_100, { place: 'shed' }),
      pieces('box-3', 12),
      lengths('long', 1, 3_200, { place: 'shed' }),
      pieces('box-4', 1, { place: 'shed' }),
    ];
    expect(places(all)[0]?.rows.map((row) => row['Each'])).toEqual(['3.2 m', '1.1 m', 'piece']);
    expect(totals(all)).toEqual([
      ['PVC wire, green', 'wire-green', '6.5 m in 4 lengths'],
      ['Ring terminal', 'ring', '13 pieces'],
    ]);
  });

  test('says what it is narrowed to, and where nothing lies there that it is so', () => {
    const page = [...shelfSheetHtml(sheet([], ['the place shed']))].join('');
    expect(page).toContain('Only the place shed. As of 2026-11-28');
    expect(page).toContain('Nothing of this lies on the shelf.');
  });

  test('has every item once, and its totals are those of the items', () => {
    const place = fc.constantFrom(undefined, 'shed', 'drawer 2', 'drawer 10');
    const amount = fc.record({ count: fc.integer({ min: 1, max: 999 }), place, mm: fc.nat(9_999) });
    fc.assert(
      fc.property(fc.array(amount, { maxLength: 20 }), (given) => {
        const all = given.map(({ count, place, mm }, at) =>
          mm % 2 === 0
            ? pieces(`p-${at}`, count, place === undefined ? {} : { place })
            : lengths(`l-${at}`, count, mm, place === undefined ? {} : { place }),
        );
        const rows = places(all).flatMap((group) => group.rows);
        expect(rows.map((row) => row['Code of the item']).sort()).toEqual(
          all.map(({ item }) => item.code).sort(),
        );
        const counts = totals(all).map(([, , words = '']) =>
          Number(/(\d+) (piece|length)s?$/.exec(words)?.[1]),
        );
        expect(counts.reduce((sum, count) => sum + count, 0)).toBe(
          all.reduce((sum, { item }) => sum + item.count, 0),
        );
      }),
    );
  });

  test('lets nothing that people typed become markup, and needs nothing from elsewhere', () => {
    const evil = '<script>alert("x")</script>';
    const page = [
      ...shelfSheetHtml(sheet([pieces('box-3', 1, { place: evil, owner: evil, note: evil }, evil)], [evil])),
    ].join('');
    expect(page).not.toMatch(/<script|https?:|src=|url\(|@import/);
    // What it is narrowed to, the place, the item's part, owner and note, and the part again.
    expect(page.match(/&lt;script&gt;/g)).toHaveLength(6);
  });

  test.skipIf(!hasPdfReader)('is a PDF that says the same and names a place again on each page', async () => {
    const all = Array.from({ length: 90 }, (_, at) => pieces(`box-${at}`, at + 1, { place: 'long shelf' }));
    const pages = pagesOf(await printShelf(sheet(all), 'letter'));
    expect(pages.length).toBeGreaterThan(2);
    expect(pages[0]).toContain('long shelf');
    expect(pages[1]).toContain('long shelf (continued)');
    expect(pages.join('')).toContain('4095 pieces');
  });
});
