import { describe, expect, test } from 'vitest';
import { DEFAULT_LABELS } from '../../../worker/sheets/labels/label.ts';
import { shelfSheetHtml } from '../../../worker/sheets/shelf/shelfSheet.ts';
import type { Stocked } from '../../../worker/sheets/shelf/shelfOrder.ts';
import { stockLabel, stockLabelSheet } from '../../../worker/sheets/shelf/stockLabels.ts';
import { printShelf } from '../../../worker/threads/printed.ts';
import { hasPdfReader, pagesOf } from '../readPdf.ts';
import { lengths, pieces } from './stocked.ts';

const LARGE = { ...DEFAULT_LABELS, widthMm: 70, heightMm: 25 };
const sheet = (all: readonly Stocked[], layout = LARGE) =>
  stockLabelSheet(all, { layout, day: '2026-11-28' });
const page = (all: readonly Stocked[], layout = LARGE) =>
  [...shelfSheetHtml(sheet(all, layout), 'a4')].join('');

describe('a label of a stock item', () => {
  test('of a length says part, code, metres and millimetres, colour and size, and place', () => {
    expect(stockLabel(lengths('green-3200', 2, 3_200, { place: 'shed' })).rows).toEqual([
      'PVC wire, green',
      'green-3200 · 3.2 m (3200 mm)',
      'green with yellow tracer, 14/0.30',
      'shed',
    ]);
  });

  test('of a drawer says part, code and place; how many lie in it changes, and is not on it', () => {
    expect(stockLabel(pieces('box-3', 12, { place: 'shed' })).rows).toEqual([
      'Ring terminal',
      'box-3',
      'shed',
    ]);
    expect(stockLabel(pieces('box-3', 12)).rows).toEqual(['Ring terminal', 'box-3']);
  });

  test('breaks a long name over lines', () => {
    const name = 'Ring terminal, tinned copper, for a stud of six millimetres and thin wire';
    const html = page([pieces('box-3', 1, {}, name)]);
    const bold = [...html.matchAll(/<b>([^<]*)<\/b>/g)].map(([, words]) => words);
    expect(bold.length).toBeGreaterThan(1);
    expect(bold.join(' ')).toBe(name);
  });
});

describe('labels of the shelf', () => {
  test('are one for each item, by place as on the stock list', () => {
    const all = [
      pieces('a', 5),
      lengths('b', 3, 900, { place: 'drawer 10' }),
      pieces('c', 0, { place: 'drawer 2' }),
    ];
    const html = page(all);
    expect(html.match(/class="label"/g)).toHaveLength(3);
    expect([...html.matchAll(/<br \/>([abc])[\s<]/g)].map(([, code]) => code)).toEqual(['c', 'b', 'a']);
    expect(html).toMatch(/Each label is 70 × 25\smm/);
  });

  test('are labels alone on a strip, and said to be none where there is no item', () => {
    expect(page([pieces('a', 5)], { ...LARGE, form: 'strip' })).not.toContain('Print at full size');
    expect(page([])).toContain('There is no such stock item to label.');
  });

  test('let nothing that people typed become markup', () => {
    const evil = '<script>alert("x")</script>';
    const html = page([pieces('a', 1, { place: evil }, evil)]);
    expect(html).not.toContain('<script');
    expect(html).toContain('&lt;script&gt;');
  });

  test.skipIf(!hasPdfReader)(
    'are a PDF with a page for each on a strip, and all on one of a sheet',
    async () => {
      const all = [pieces('box-1', 5), pieces('box-2', 5), lengths('green-900', 3, 900)];
      const strip = pagesOf(await printShelf(sheet(all, { ...LARGE, form: 'strip' }), 'a4'));
      expect(strip).toHaveLength(3);
      const [, labels = ''] = pagesOf(await printShelf(sheet(all), 'a4'));
      for (const code of ['box-1', 'box-2', 'green-900']) expect(labels).toContain(code);
    },
  );
});
