import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { labelsCsv } from '../../worker/sheets/bench/labelsCsv.ts';
import { endLabels, labelSections } from '../../worker/sheets/bench/labels.ts';
import { sectionsHtml } from '../../worker/sheets/blockHtml.ts';
import { fitLabel, middleCut, SMALLEST } from '../../worker/sheets/labels/fit.ts';
import { DEFAULT_LABELS, gridOf } from '../../worker/sheets/labels/label.ts';
import { PAPER_MM } from '../../worker/sheets/paper.ts';
import { sheetsPdf } from '../../worker/sheets/pdf/sheetsPdf.ts';
import { readFonts } from '../../worker/threads/fonts.ts';
import {
  byTheMetre,
  crimped,
  jobOf,
  points,
  priced,
  supplier,
  terminal,
  wire,
  wirePart,
} from '../engine/fixtures.ts';
import { hasPdfReader, pagesOf } from './readPdf.ts';

const made = (wires: number, quantity: number) =>
  priced(
    jobOf({
      quantity,
      parts: [wirePart('red'), terminal('ring')],
      suppliers: [supplier('shop')],
      offers: [byTheMetre('r', 'shop', 'red', '1.00')],
      loom: {
        points: points('A', 'B'),
        wires: Array.from({ length: wires }, (_, at) =>
          wire(`W${at + 1}`, { circuit: 'horn', from: crimped('A', 'ring', { way: `${at}` }) }),
        ),
      },
    }),
  );

test('every wire of every loom has a label for both of its ends, each with its own end first', async () => {
  const result = await made(4, 3);
  const labels = endLabels(result);
  expect(labels).toHaveLength(24);
  for (let at = 1; at <= 4; at++) {
    const own = labels.filter(({ wire: name }) => name === `W${at}`);
    expect(own.map(({ side }) => side)).toEqual(['from', 'to', 'from', 'to', 'from', 'to']);
    expect(own[0]).toEqual({
      loom: 'l',
      wire: `W${at}`,
      side: 'from',
      circuit: 'horn',
      here: `A ${at - 1}`,
      there: 'B',
      colour: 'red',
      size: '1 mm²',
    });
    expect(own[1]).toMatchObject({ here: 'B', there: `A ${at - 1}` });
  }
  const { bench: _bench, ...older } = result;
  expect(endLabels(older)).toEqual(labels);
});

test('the CSV for a printer of labels has a row for each label', async () => {
  const rows: Record<string, string>[] = parse([...labelsCsv(await made(2, 1))].join(''), { columns: true });
  expect(rows.map((row) => row['line 2'])).toEqual(['A 0 → B', 'B → A 0', 'A 1 → B', 'B → A 1']);
  expect(rows[0]).toMatchObject({ wire: 'W1', circuit: 'horn', colour: 'red', 'line 1': 'W1 · horn' });
});

describe('words on a label', () => {
  /** Rows, from number `at` on in one line. */
  const merged = (rows: readonly string[], at: number) => [...rows.slice(0, at), rows.slice(at).join(' · ')];
  // Each character as wide as it is high.
  const widthOf = (words: string) => words.length;

  test('fit in it in the largest letters that do, and lose nothing; or are shortened in the middle where one sees it', () => {
    const rows = fc.array(fc.string({ minLength: 1, maxLength: 30, unit: fc.constantFrom('a', 'b', ' ') }), {
      minLength: 1,
      maxLength: 4,
    });
    const area = fc.record({
      width: fc.integer({ min: 20, max: 400 }),
      height: fc.integer({ min: 6, max: 60 }),
    });
    fc.assert(
      fc.property(rows, area, (words, { width, height }) => {
        const { lines, size, shortened } = fitLabel({ rows: words }, { width, height }, widthOf);
        expect(lines.join(' · ')).toBe(words.join(' · '));
        expect(lines.length * size).toBeLessThanOrEqual(height);
        expect(size).toBeGreaterThanOrEqual(SMALLEST);
        const widest = Math.max(...lines.map(widthOf)) * size;
        if (shortened) expect(widest).toBeGreaterThan(width);
        else expect(widest).toBeLessThanOrEqual(width);
      }),
    );
  });

  test('whose first row is a name stand in the largest letters that any breaks of the name give, all of it in bold', () => {
    const word = fc.string({ minLength: 1, maxLength: 9, unit: fc.constantFrom('a', 'b') });
    const name = fc.array(word, { minLength: 1, maxLength: 6 });
    const area = fc.record({
      width: fc.integer({ min: 20, max: 200 }),
      height: fc.integer({ min: 16, max: 60 }),
    });
    fc.assert(
      fc.property(name, fc.array(word, { maxLength: 3 }), area, (words, rest, { width, height }) => {
        const { lines, size, bold, shortened } = fitLabel(
          { rows: [words.join(' '), ...rest], wraps: true },
          { width, height },
          widthOf,
        );
        // Every set of breaks is tried: a bit for each gap.
        const below = rest.length === 0 ? [[]] : rest.map((_, at) => merged(rest, at));
        const ways = Array.from({ length: 2 ** (words.length - 1) }, (_, breaks) =>
          words
            .map((one, at) => (at === 0 ? one : `${((breaks >> (at - 1)) & 1) === 1 ? '/' : ' '}${one}`))
            .join('')
            .split('/'),
        )
          .filter((own) => own.length <= 3)
          .flatMap((own) => below.map((further) => [...own, ...further]));
        const sizes = [...ways, merged([words.join(' '), ...rest], 0)].map((all) => {
          const exact = Math.min(14, width / Math.max(...all.map(widthOf)), height / (all.length * 1.12));
          return Math.floor(exact * 4) / 4;
        });
        if (shortened) expect(Math.max(...sizes)).toBeLessThan(SMALLEST);
        else expect(size).toBe(Math.max(...sizes));
        if (bold > 1) expect(lines.slice(0, bold).join(' ')).toBe(words.join(' '));
      }),
    );
  });

  test('break a name only where that gives larger letters', () => {
    const label = { rows: ['ring terminal', 'box-3', 'shed'], wraps: true };
    expect(fitLabel(label, { width: 400, height: 100 }, widthOf)).toMatchObject({
      lines: ['ring terminal', 'box-3', 'shed'],
      bold: 1,
    });
    expect(fitLabel(label, { width: 100, height: 100 }, widthOf)).toMatchObject({
      lines: ['ring', 'terminal', 'box-3', 'shed'],
      bold: 2,
    });
  });

  test('are shortened from the middle, so that both ends of them can be read', () => {
    expect(middleCut(Array.from('left-lamp tail'), 6)).toBe('lef…ail');
    expect(middleCut(Array.from('left'), 1)).toBe('l…');
  });
});

test('as many labels stand side by side as fit, and none where one is larger than the paper', () => {
  // (210 − 2 × 12 + 2) / (45 + 2) = 4; (297 − 15 + 2) / (12 + 2) = 20.3.
  expect(gridOf(DEFAULT_LABELS, PAPER_MM.a4)).toEqual({ columns: 4, rows: 20 });
  expect(gridOf({ ...DEFAULT_LABELS, columns: 5 }, PAPER_MM.a4)).toBeUndefined();
  expect(gridOf({ ...DEFAULT_LABELS, widthMm: 250 }, PAPER_MM.a4)).toBeUndefined();
});

test('on a page, labels stand at their places in mm, and hostile names stay words', async () => {
  const result = await made(1, 1);
  for (const loom of result.bench?.looms ?? [])
    for (const each of loom.wires) each.circuitName = '<script>alert("x")</script>';
  const html = sectionsHtml(
    labelSections(result, { ...DEFAULT_LABELS, widthMm: 90, heightMm: 30 }),
  ).toString();
  expect(html).toContain('left:12mm;top:15mm;width:90mm;height:30mm');
  expect(html).toContain('&lt;script&gt;');
  expect(html).not.toContain('<script');
});

describe.skipIf(!hasPdfReader)('in a PDF', () => {
  const printed = async (form: 'sheet' | 'strip', kind: 'sleeve' | 'flag') => {
    const sections = labelSections(await made(3, 1), { ...DEFAULT_LABELS, form, kind });
    const sheets = [{ name: 'labels' as const, title: 'Label sheet', sections }];
    const print = { title: 'Labels', sheets, foot: 'Loom', asOf: '2026-03-02', paper: 'a4' as const };
    return pagesOf(await sheetsPdf(print, readFonts()));
  };

  test('a strip has a page for each label and nothing else', async () => {
    const pages = await printed('strip', 'sleeve');
    expect(pages).toHaveLength(6);
    pages.forEach((page) => expect(page).toMatch(/W\d · horn/));
  });

  test('a flag says its words on both halves', async () => {
    const [, page = ''] = await printed('sheet', 'flag');
    expect(page.match(/W1 · horn/g)).toHaveLength(4);
  });
});
